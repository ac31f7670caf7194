#include "sim/trim/trim_run_json.h"

#include <nlohmann/json.hpp>

#include "sim/advice/result_cache.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

ordered_json json_of(const Flag& flag) {
    auto detail = ordered_json::array();
    for (const auto& [name, value] : flag.detail) detail.push_back({name, json_of_number(value)});
    return {static_cast<int>(flag.kind),         flag.member,  flag.month, flag.day_d, flag.colony,
            static_cast<int>(flag.culprit_kind), flag.culprit, flag.share, detail};
}

Flag flag_of(const ordered_json& json) {
    Flag flag{static_cast<FlagKind>(json.at(0).get<int>()),
              json.at(1),
              json.at(2),
              json.at(3),
              json.at(4),
              static_cast<CulpritKind>(json.at(5).get<int>()),
              json.at(6),
              json.at(7),
              {}};
    for (const auto& detail : json.at(8))
        flag.detail.emplace_back(detail.at(0).get<std::string>(), number_from_json(detail.at(1)));
    return flag;
}

}  // namespace

ordered_json json_of(const TrimRun& run) {
    auto flags = ordered_json::array(), cuts = ordered_json::array();
    for (const Flag& flag : run.flags) flags.push_back(json_of(flag));
    for (const CutDone& cut : run.cuts)
        cuts.push_back({cut.colony, cut.day_d, cut.before_m, cut.after_m, cut.cut_m2});
    return {{"member", run.member}, {"flags", flags}, {"cuts", cuts}};
}

TrimRun trim_run_of(const ordered_json& json) {
    TrimRun run;
    run.member = json.at("member");
    for (const auto& flag : json.at("flags")) run.flags.push_back(flag_of(flag));
    for (const auto& cut : json.at("cuts"))
        run.cuts.push_back({cut.at(0), cut.at(1), cut.at(2), cut.at(3), cut.at(4)});
    return run;
}

}  // namespace bedshade
