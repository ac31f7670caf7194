#include "sim/input/layout/overlay.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "sim/base/text.h"

namespace bedshade {
namespace {

using Keys = std::vector<std::string>;

/// Ways of saying the same thing: when the upper layout uses one, the lower one's others go.
const std::vector<std::vector<Keys>>& alternatives() {
    static const std::vector<std::vector<Keys>> groups = {
        {{"photon_flux"}, {"watts", "efficacy"}},
        {{"beam_exponent"}, {"half_angle"}, {"photometry"}, {"photometry_text"}},
        {{"spectrum"}, {"spectrum_file"}, {"spectrum_points"}},
        {{"file"}, {"mesh"}},
    };
    return groups;
}

bool holds_any(const toml::table& table, const Keys& keys) {
    return std::any_of(keys.begin(), keys.end(),
                       [&](const std::string& key) { return table.contains(key); });
}

void drive_out_alternatives(toml::table& lower, const toml::table& upper) {
    for (const auto& group : alternatives())
        for (const auto& chosen : group) {
            if (!holds_any(upper, chosen)) continue;
            for (const auto& other : group)
                if (other != chosen)
                    for (const auto& key : other) lower.erase(key);
        }
}

/// A position with three coordinates has its own height, so `on` is dropped.
void leave_support(toml::table& lower, const toml::table& upper) {
    const auto place = upper["position"].value<std::string_view>();
    if (!place || upper.contains("on")) return;
    int words = 0;
    bool in_word = false;
    for (const char c : *place) {
        words += !in_word && c != ' ';
        in_word = c != ' ';
    }
    if (words >= 4) lower.erase("on");
}

std::string name_of(const toml::node& item) {
    const auto* table = item.as_table();
    return table ? (*table)["name"].value_or(std::string()) : std::string();
}

bool taken_away(const toml::node& item) {
    const auto* table = item.as_table();
    return table && (*table)["remove"].value_or(false);
}

Keys names_in(const toml::array& list) {
    Keys names;
    for (const auto& item : list)
        if (const auto name = name_of(item); !name.empty()) names.push_back(name);
    return names;
}

/// Lays one list of a file over the list gathered so far.
class ListMerge {
  public:
    ListMerge(std::string kind, toml::array& lower, Diagnostics& diagnostics)
        : kind_(std::move(kind)), lower_(lower), diagnostics_(diagnostics) {
        for (std::size_t i = 0; i < lower.size(); ++i)
            if (const auto name = name_of(lower[i]); !name.empty()) where_.emplace(name, i);
    }

    void lay(toml::array&& upper) {
        for (auto& item : upper) {
            const std::string name = name_of(item);
            if (!name.empty() && !is_first(name, item)) continue;
            if (taken_away(item))
                take_away(name, item);
            else
                add_or_change(name, std::move(item));
        }
        drop_removed();
    }

  private:
    bool is_first(const std::string& name, const toml::node& item) {
        const auto [seen, first] = lines_.emplace(name, place_of(item).line);
        if (!first)
            diagnostics_.error(
                place_of(*(*item.as_table())["name"].node()),
                fmt::format("two entries of [[{}]] are named \"{}\"", kind_, escape_control(name)),
                fmt::format("the first one is in line {}", seen->second));
        return first;
    }

    void take_away(const std::string& name, const toml::node& item) {
        const auto found = where_.find(name);
        if (found != where_.end()) {
            removed_.push_back(found->second);
            return;
        }
        const std::string near =
            diagnostics_.keeps_more_errors() ? nearest_name(name, names_in(lower_)) : "";
        diagnostics_.error(
            place_of(item),
            fmt::format("there is no {} \"{}\" to remove", kind_, escape_control(name)),
            near.empty() ? std::string()
                         : fmt::format("did you mean \"{}\"?", escape_control(near)));
    }

    void add_or_change(const std::string& name, toml::node&& item) {
        const auto found = name.empty() ? where_.end() : where_.find(name);
        if (found == where_.end())
            lower_.push_back(std::move(item));
        else
            overlay(*lower_[found->second].as_table(), std::move(*item.as_table()), diagnostics_);
    }

    void drop_removed() {
        std::sort(removed_.rbegin(), removed_.rend());
        for (const std::size_t i : removed_)
            lower_.erase(lower_.begin() + static_cast<std::ptrdiff_t>(i));
    }

    std::string kind_;
    toml::array& lower_;
    Diagnostics& diagnostics_;
    std::map<std::string, std::size_t> where_;
    std::map<std::string, int> lines_;
    std::vector<std::size_t> removed_;
};

bool is_list_of_tables(const toml::node& node) {
    const auto* list = node.as_array();
    return list && list->is_array_of_tables();
}

/// The list under `key`, made when there is none yet.
toml::array& list_at(toml::table& table, const toml::key& key) {
    auto* found = table.get(key.str());
    if (found && found->is_array()) return *found->as_array();
    table.erase(key.str());
    return *table.insert_or_assign(key, toml::array{}).first->second.as_array();
}

void replace(toml::table& lower, const toml::key& key, toml::node&& value) {
    lower.erase(key.str());
    lower.insert_or_assign(key, std::move(value));
}

}  // namespace

void overlay(toml::table& lower, toml::table&& upper, Diagnostics& diagnostics) {
    drive_out_alternatives(lower, upper);
    leave_support(lower, upper);
    for (auto&& [key, value] : upper) {
        auto* below = lower.get(key.str());
        // A spectrum is one thing: shares of two of them do not add up.
        const bool merges = key.str() != "spectrum" && below && below->is_table();
        if (is_list_of_tables(value))
            ListMerge(std::string(key.str()), list_at(lower, key), diagnostics)
                .lay(std::move(*value.as_array()));
        else if (merges && value.is_table())
            overlay(*below->as_table(), std::move(*value.as_table()), diagnostics);
        else
            replace(lower, key, std::move(value));
    }
}

}  // namespace bedshade
