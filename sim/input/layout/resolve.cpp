#include "sim/input/layout/resolve.h"

#include <algorithm>
#include <fmt/format.h>
#include <system_error>

#include "sim/base/text.h"
#include "sim/input/layout/overlay.h"
#include "sim/input/text/text_file.h"
#include "sim/input/text/toml_file.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

std::string identity(const fs::path& path) {
    std::error_code failure;
    const auto whole = fs::weakly_canonical(path, failure);
    return failure ? path.string() : whole.string();
}

/// Loads a file and, under it, the file it extends, and so on down.
class Chain {
  public:
    explicit Chain(Diagnostics& diagnostics) : diagnostics_(diagnostics) {}

    std::optional<toml::table> load(const fs::path& path, const Place& named_at) {
        const auto text = read_text_file(path, named_at, diagnostics_);
        return text ? load_text(*text, path.string()) : std::nullopt;
    }

    std::optional<toml::table> load_text(std::string_view text, const std::string& file) {
        open_.push_back(identity(file));
        auto upper = parse_toml(text, file, diagnostics_);
        if (!upper) return std::nullopt;
        toml::table lower;
        if (const auto* extends = upper->get("extends")) {
            auto base = load_base(*extends);
            if (!base) return std::nullopt;
            lower = std::move(*base);
            upper->erase("extends");
        }
        overlay(lower, std::move(*upper), diagnostics_);
        return lower;
    }

  private:
    std::optional<toml::table> load_base(const toml::node& extends) {
        const auto written = extends.value<std::string_view>();
        if (!written) {
            diagnostics_.error(place_of(extends), "extends must name a layout file, in quotes");
            return std::nullopt;
        }
        const fs::path base = path_beside(extends, *written);
        return may_extend(base, extends) ? load(base, place_of(extends)) : std::nullopt;
    }

    bool may_extend(const fs::path& base, const toml::node& extends) {
        const bool loop = std::count(open_.begin(), open_.end(), identity(base)) > 0;
        if (loop)
            diagnostics_.error(place_of(extends),
                               fmt::format("`{}` extends itself, directly or through others",
                                           escape_control(base.string())));
        else if (open_.size() > kLongestExtends)
            diagnostics_.error(
                place_of(extends),
                fmt::format("more than {} layouts extend one another here", kLongestExtends));
        else
            return true;
        return false;
    }

    Diagnostics& diagnostics_;
    std::vector<std::string> open_;
};

std::optional<toml::table> load_change(const fs::path& path, Diagnostics& diagnostics) {
    const auto text = read_text_file(path, {path.string()}, diagnostics);
    if (!text) return std::nullopt;
    auto change = parse_toml(*text, path.string(), diagnostics);
    if (!change) return std::nullopt;
    if (const auto* extends = change->get("extends")) {
        diagnostics.error(place_of(*extends), "a change file cannot extend another file",
                          "a change is applied to the layout it is used with");
        change->erase("extends");
    }
    return change;
}

std::optional<toml::table> with_changes(std::optional<toml::table> layout,
                                        const std::vector<fs::path>& changes,
                                        Diagnostics& diagnostics) {
    for (const auto& path : changes) {
        auto change = load_change(path, diagnostics);
        if (layout && change)
            overlay(*layout, std::move(*change), diagnostics);
        else
            layout.reset();
    }
    return layout;
}

}  // namespace

fs::path path_beside(const toml::node& said_by, std::string_view written) {
    const fs::path folder = fs::path(place_of(said_by).file).parent_path();
    return (folder / fs::path(std::string(written))).lexically_normal();
}

std::optional<toml::table> resolve_layout(const fs::path& path,
                                          const std::vector<fs::path>& changes,
                                          Diagnostics& diagnostics) {
    return with_changes(Chain(diagnostics).load(path, {path.string()}), changes, diagnostics);
}

std::optional<toml::table> resolve_layout_text(std::string_view text, const std::string& file,
                                               const std::vector<fs::path>& changes,
                                               Diagnostics& diagnostics) {
    if (!is_plain_text(text, file, diagnostics)) return std::nullopt;
    return with_changes(Chain(diagnostics).load_text(text, file), changes, diagnostics);
}

}  // namespace bedshade
