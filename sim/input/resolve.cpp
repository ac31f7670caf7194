#include "sim/input/resolve.h"

#include <algorithm>
#include <fmt/format.h>
#include <system_error>

#include "sim/input/diagnostic.h"
#include "sim/input/merge.h"
#include "sim/input/text_file.h"
#include "sim/input/toml_file.h"

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
    explicit Chain(Problems& problems) : problems_(problems) {}

    std::optional<toml::table> load(const fs::path& path, const Place& asked_from) {
        const auto text = read_text_file(path, asked_from, problems_);
        return text ? load_text(*text, path.string()) : std::nullopt;
    }

    std::optional<toml::table> load_text(std::string_view text, const std::string& file) {
        open_.push_back(identity(file));
        auto upper = parse_toml(text, file, problems_);
        if (!upper) return std::nullopt;
        toml::table lower;
        if (const auto* extends = upper->get("extends")) {
            auto base = load_base(*extends);
            if (!base) return std::nullopt;
            lower = std::move(*base);
            upper->erase("extends");
        }
        lay_over(lower, std::move(*upper), problems_);
        return lower;
    }

  private:
    std::optional<toml::table> load_base(const toml::node& extends) {
        const auto written = extends.value<std::string_view>();
        if (!written) {
            problems_.error(place_of(extends), "extends must name a layout file, in quotes");
            return std::nullopt;
        }
        const fs::path base = path_beside(extends, *written);
        return may_extend(base, extends) ? load(base, place_of(extends)) : std::nullopt;
    }

    bool may_extend(const fs::path& base, const toml::node& extends) {
        const bool loop = std::count(open_.begin(), open_.end(), identity(base)) > 0;
        if (loop)
            problems_.error(place_of(extends),
                            fmt::format("`{}` extends itself, directly or through others",
                                        printable(base.string())));
        else if (open_.size() > kLongestExtends)
            problems_.error(
                place_of(extends),
                fmt::format("more than {} layouts extend one another here", kLongestExtends));
        else
            return true;
        return false;
    }

    Problems& problems_;
    std::vector<std::string> open_;
};

std::optional<toml::table> load_change(const fs::path& path, Problems& problems) {
    const auto text = read_text_file(path, {path.string()}, problems);
    if (!text) return std::nullopt;
    auto change = parse_toml(*text, path.string(), problems);
    if (!change) return std::nullopt;
    if (const auto* extends = change->get("extends")) {
        problems.error(place_of(*extends), "a change file cannot extend another file",
                       "a change is laid over the layout it is used with");
        change->erase("extends");
    }
    return change;
}

std::optional<toml::table> with_changes(std::optional<toml::table> layout,
                                        const std::vector<fs::path>& changes, Problems& problems) {
    for (const auto& path : changes) {
        auto change = load_change(path, problems);
        if (layout && change)
            lay_over(*layout, std::move(*change), problems);
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
                                          Problems& problems) {
    return with_changes(Chain(problems).load(path, {path.string()}), changes, problems);
}

std::optional<toml::table> resolve_layout_text(std::string_view text, const std::string& file,
                                               const std::vector<fs::path>& changes,
                                               Problems& problems) {
    if (!is_plain_text(text, file, problems)) return std::nullopt;
    return with_changes(Chain(problems).load_text(text, file), changes, problems);
}

}  // namespace bedshade
