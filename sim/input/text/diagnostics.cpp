#include "sim/input/text/diagnostics.h"

#include <algorithm>
#include <fmt/format.h>
#include <tuple>
#include <utility>

namespace bedshade {
namespace {

std::vector<std::string> split_lines(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        lines.emplace_back(line);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

}  // namespace

Place place_of(const toml::source_region& source) {
    return {source.path ? *source.path : std::string(), static_cast<int>(source.begin.line),
            static_cast<int>(source.begin.column)};
}
Place place_of(const toml::node& node) { return place_of(node.source()); }
Place place_of(const toml::key& key) { return place_of(key.source()); }

void Diagnostics::remember(const std::string& file, std::string_view text) {
    if (lines_.insert_or_assign(file, split_lines(text)).second) order_.push_back(file);
}

Diagnostic Diagnostics::at(Diagnostic::Level level, const Place& place, std::string what,
                           std::string help) {
    Diagnostic d{level, place.file, place.line, place.column, {}, std::move(what), std::move(help)};
    if (d.file.empty() && !order_.empty()) d.file = order_.front();
    const auto lines = lines_.find(d.file);
    if (lines != lines_.end() && place.line > 0 &&
        static_cast<std::size_t>(place.line) <= lines->second.size())
        d.source_line = lines->second[static_cast<std::size_t>(place.line) - 1];
    return d;
}

void Diagnostics::error(const Place& place, std::string what, std::string help) {
    if (!keeps_more_errors()) {
        ++dropped_;
        return;
    }
    errors_.push_back(at(Diagnostic::Level::error, place, std::move(what), std::move(help)));
}

void Diagnostics::warn(const Place& place, std::string what, std::string help) {
    if (!keeps_more_warnings()) return;
    warnings_.push_back(at(Diagnostic::Level::warning, place, std::move(what), std::move(help)));
}

void Diagnostics::adopt(const std::vector<Diagnostic>& diagnostics) {
    for (const auto& d : diagnostics)
        (d.level == Diagnostic::Level::error ? errors_ : warnings_).push_back(d);
}

std::vector<Diagnostic> Diagnostics::in_reading_order(std::vector<Diagnostic> found) const {
    const auto rank = [&](const Diagnostic& d) {
        const auto file = std::find(order_.begin(), order_.end(), d.file);
        return std::tuple(file - order_.begin(), d.line, d.column);
    };
    std::stable_sort(found.begin(), found.end(),
                     [&](const Diagnostic& a, const Diagnostic& b) { return rank(a) < rank(b); });
    return found;
}

void Diagnostics::throw_if_any() const {
    if (errors_.empty()) return;
    auto found = in_reading_order(errors_);
    if (dropped_ > 0)
        found.push_back({Diagnostic::Level::error,
                         found.back().file,
                         0,
                         0,
                         {},
                         fmt::format("{} more problems are not shown", dropped_),
                         {}});
    throw InputError(std::move(found));
}

std::vector<Diagnostic> Diagnostics::warnings() const { return in_reading_order(warnings_); }

}  // namespace bedshade
