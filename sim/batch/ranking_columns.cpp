#include "sim/batch/ranking_columns.h"

#include <set>

namespace bedshade {

const std::vector<NumberColumn>& number_columns() {
    using R = RankedRow;
    static const std::vector<NumberColumn> columns = {
        {"score", "score by the weights stated in the file", [](const R& r) { return r.score; },
         true},
        {"worst", "worst margin of any coral on the bed, mean over members",
         [](const R& r) { return r.row.worst; }, true},
        {"worst_low", "the same, 10 % of members", [](const R& r) { return r.row.worst_low; },
         true},
        {"worst_high", "the same, 90 % of members", [](const R& r) { return r.row.worst_high; },
         true},
        {"bed_light", "worst light margin on the bed, ln of light over need",
         [](const R& r) { return r.row.bed.light; }, true},
        {"bed_sand", "worst sand margin on the bed, ln of the smothering load over the sand",
         [](const R& r) { return r.row.bed.sand; }, true},
        {"bed_reach", "least room beyond a neighbour's reach on the bed, in 5 cm",
         [](const R& r) { return r.row.bed.reach; }, true},
        {"bed_flow", "worst flow margin on the bed, ln of speed over the nearer end of the range",
         [](const R& r) { return r.row.bed.flow; }, true},
        {"tank_worst", "worst margin of any coral in the tank, mean over members",
         [](const R& r) { return r.row.tank_worst; }, true},
        {"flags_mean", "flags of a member", [](const R& r) { return r.row.flags_mean; }, true},
        {"members_flagged", "members that raised a flag",
         [](const R& r) { return static_cast<double>(r.row.members_flagged); }, true},
        {"first_flag_month", "month of the central member's first flag; 0: none",
         [](const R& r) { return static_cast<double>(r.row.first_flag_month); }, true},
        {"months", "length of the season; 0: not known",
         [](const R& r) { return static_cast<double>(r.row.months); }, false},
        {"members", "runs within what is known of its figures",
         [](const R& r) { return static_cast<double>(r.row.members); }, false}};
    return columns;
}

const std::vector<TextColumn>& text_columns() {
    static const std::vector<TextColumn> columns = {
        {"key", "SHA-256 of everything that determines the run", &BatchRow::key},
        {"layout", "the layout it started from", &BatchRow::layout},
        {"worst_of", "what the worst margin is about, central member", &BatchRow::worst_of},
        {"flags", "flags of the central member", &BatchRow::flags},
        {"message", "why the run has no result", &BatchRow::message},
        {"program", "program version", &BatchRow::program},
        {"model", "model version", &BatchRow::model}};
    return columns;
}

std::vector<std::string> setting_names(const std::vector<RankedRow>& rows) {
    std::set<std::string> names;
    for (const RankedRow& ranked : rows)
        for (const auto& [name, value] : ranked.row.settings) names.insert(name);
    return {names.begin(), names.end()};
}

std::string setting_of(const BatchRow& row, const std::string& name) {
    for (const auto& [each, value] : row.settings)
        if (each == name) return value;
    return {};
}

}  // namespace bedshade
