#include "sim/trajectory/colony_record.h"

#include <algorithm>
#include <limits>

namespace bedshade {

namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

ColonyRecord absent_record() {
    ColonyRecord record;
    record.position_m.setConstant(kNone);
    record.radius_m.fill(kNone);
    for (const auto& figure : kColonyQuantities) record.*figure.value = kNone;
    return record;
}

void keep_largest(const std::vector<ShadeShare>& shade_by, ColonyRecord& record) {
    for (const auto& shade : shade_by)
        if (record.shade_by.size() < kShadeRanks)
            record.shade_by.push_back(shade);
        else
            record.shade_by_other += shade.share;
}

}  // namespace

ColonyFacts facts_of(const Layout& layout, const Colony& colony) {
    const Taxon& taxon = layout.taxon_of(colony);
    return {colony.name,           taxon.id, taxon.form, colony.on, colony.facing_azimuth_rad,
            colony.facing_tilt_rad};
}

ColonyRecord record_of(const ColonyState& state, const ColonyObservation& finding) {
    if (!state.present) return absent_record();
    ColonyRecord record;
    record.present = true;
    record.stage = state.stage;
    record.position_m = state.position_m;
    record.radius_m = state.radius_m;
    record.diameter_m = mean_diameter_m(state.radius_m);
    record.height_m = state.height_m;
    record.live_fraction = state.live_fraction;
    record.ppfd_mean_umol_m2_s = finding.ppfd_mean_umol_m2_s;
    record.dli_mol_m2_d = finding.dli_mol_m2_d;
    record.need_dli_mol_m2_d = finding.need_dli_mol_m2_d;
    record.net_carbon = finding.net_carbon;
    record.reserve = state.reserve;
    record.sand_kg_m2 = state.sand_kg_m2;
    record.flow_speed_m_s = finding.flow_speed_m_s;
    keep_largest(finding.shade_by, record);
    return record;
}

bool can_be_drawn(const ColonyRecord& record) {
    constexpr double kMostSize_m = 100.0;
    const auto sound = [](double value) { return value >= 0.0 && value <= kMostSize_m; };
    return record.present && std::all_of(record.radius_m.begin(), record.radius_m.end(), sound) &&
           sound(record.height_m) && record.position_m.cwiseAbs().maxCoeff() <= kMostSize_m;
}

ColonyShape shape_of(const ColonyFacts& facts, const ColonyRecord& record) {
    return {facts.form,      record.position_m, facts.facing_azimuth_rad, facts.facing_tilt_rad,
            record.radius_m, record.height_m};
}

}  // namespace bedshade
