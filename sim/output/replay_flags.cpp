#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "sim/input/diagnostic.h"
#include "sim/output/replay_parts.h"
#include "sim/output/report.h"
#include "sim/season/calendar.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

/// The same flag of the same colony, in every member that raised it.
using Told = std::pair<FlagKind, int>;

Told key_of(const Flag& flag) { return {flag.kind, flag.colony}; }

/// Months in which members raised it, earliest first; each member counts once.
std::vector<int> months_of(const std::vector<Flag>& flags, const Told& told) {
    std::map<int, int> month_by_member;
    for (const Flag& flag : flags) {
        if (key_of(flag) != told) continue;
        const auto found = month_by_member.try_emplace(flag.member, flag.month).first;
        found->second = std::min(found->second, flag.month);
    }
    std::vector<int> months;
    for (const auto& [member, month] : month_by_member) months.push_back(month);
    std::sort(months.begin(), months.end());
    return months;
}

ordered_json flag_json(const Trajectory& run, const Layout& layout, const Flag& flag) {
    return {{"flag", to_string(flag.kind)},
            {"colony", flag.colony},
            {"member", flag.member},
            {"month", flag.month},
            {"day", flag.day_d},
            {"date", date_of_season(run.start(), flag.day_d)},
            {"culprit_kind", to_string(flag.culprit_kind)},
            {"culprit", flag.culprit},
            {"share", flag.share},
            {"text", flag_text(layout, flag)},
            {"months", months_of(run.flags(), key_of(flag))}};
}

/// One flag for each that can be told, the lowest member's, so that the central run speaks first.
std::vector<Flag> one_of_each(std::vector<Flag> flags) {
    std::stable_sort(flags.begin(), flags.end(),
                     [](const Flag& a, const Flag& b) { return a.member < b.member; });
    std::map<Told, bool> seen;
    std::vector<Flag> kept;
    for (const Flag& flag : flags)
        if (seen.try_emplace(key_of(flag), true).second) kept.push_back(flag);
    return kept;
}

}  // namespace

ordered_json replay_flags(const Trajectory& run, const Layout& layout) {
    ordered_json list = ordered_json::array();
    for (const Flag& flag : told_order(layout, one_of_each(run.flags())))
        list.push_back(flag_json(run, layout, flag));
    return list;
}

ordered_json replay_events(const Trajectory& run) {
    ordered_json list = ordered_json::array();
    for (const EventRecord& event : run.events())
        if (event.member == 0)
            list.push_back({{"day", event.day_d},
                            {"date", date_of_season(run.start(), event.day_d)},
                            {"colony", event.colony},
                            {"kind", printable(event.kind)},
                            {"text", printable(event.text)}});
    return list;
}

}  // namespace bedshade
