#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/export/replay_parts.h"
#include "sim/report/report.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

/// The same flag of the same colony, in every member that raised it.
using FlagKey = std::pair<FlagKind, int>;

FlagKey key_of(const Flag& flag) { return {flag.kind, flag.colony}; }

/// Months in which members raised it, earliest first; each member counts once.
std::vector<int> months_of(const std::vector<Flag>& flags, const FlagKey& key) {
    std::map<int, int> month_by_member;
    for (const Flag& flag : flags) {
        if (key_of(flag) != key) continue;
        const auto found = month_by_member.try_emplace(flag.member, flag.month).first;
        found->second = std::min(found->second, flag.month);
    }
    std::vector<int> months;
    months.reserve(month_by_member.size());
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
            {"date", date_at(run.start(), flag.day_d)},
            {"culprit_kind", to_string(flag.culprit_kind)},
            {"culprit", flag.culprit},
            {"share", flag.share},
            {"text", flag_text(layout, flag)},
            {"months", months_of(run.flags(), key_of(flag))}};
}

/// One flag for each kind and colony: those of the central run first, then those that only other
/// members raised, from the lowest member.
std::vector<Flag> one_of_each(const Layout& layout, const std::vector<Flag>& flags) {
    std::vector<Flag> kept = reporting_order(layout, flags_of_member(flags, 0));
    std::map<FlagKey, Flag> others;
    for (const Flag& flag : flags) {
        const auto is_same = [&](const Flag& key) { return key_of(key) == key_of(flag); };
        if (std::any_of(kept.begin(), kept.end(), is_same)) continue;
        const auto found = others.try_emplace(key_of(flag), flag).first;
        if (flag.member < found->second.member) found->second = flag;
    }
    std::vector<Flag> rest;
    rest.reserve(others.size());
    for (const auto& [key, flag] : others) rest.push_back(flag);
    rest = reporting_order(layout, std::move(rest));
    kept.insert(kept.end(), rest.begin(), rest.end());
    return kept;
}

}  // namespace

ordered_json replay_flags(const Trajectory& run, const Layout& layout) {
    ordered_json list = ordered_json::array();
    for (const Flag& flag : one_of_each(layout, run.flags()))
        list.push_back(flag_json(run, layout, flag));
    return list;
}

ordered_json replay_events(const Trajectory& run) {
    ordered_json list = ordered_json::array();
    for (const EventRecord& event : run.events())
        if (event.member == 0)
            list.push_back({{"day", event.day_d},
                            {"date", date_at(run.start(), event.day_d)},
                            {"colony", event.colony},
                            {"kind", escape_control(event.kind)},
                            {"text", escape_control(event.text)}});
    return list;
}

}  // namespace bedshade
