#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "model/growth/body.h"

#include "sim/base/quantile.h"
#include "sim/export/packed.h"
#include "sim/export/replay_parts.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

constexpr float kNone = std::numeric_limits<float>::quiet_NaN();
constexpr int kMostSnapshotsShown = 2000;
constexpr std::size_t kMostBytesShown = 48U << 20U;
constexpr std::size_t kCorners = kSegments, kPoints = Profile::kMaxPoints;

/// Everything that changes from snapshot to snapshot, snapshot after snapshot, colony after colony.
struct Columns {
    std::vector<double> days_d;
    std::vector<std::uint8_t> stage;
    std::vector<float> position_m;        ///< [..., 3]
    std::vector<float> corner_m;          ///< [..., kCorners]: radii of the outline
    std::vector<float> profile_share;     ///< [..., kPoints]
    std::vector<float> profile_z_m;       ///< [..., kPoints]
    std::vector<std::int16_t> shaded_by;  ///< [..., kShadeRanks]; -1: nobody
    std::vector<float> shade_share;
    std::array<std::vector<float>, kColonyQuantities.size()> figures;
    std::vector<float> bed_ppfd, bed_deposition, bed_shear_stress;  ///< [snapshot, y, x]
};

std::size_t bytes_of_snapshot(const Trajectory& run) {
    constexpr std::size_t corners = kCorners, points = kPoints, ranks = kShadeRanks;
    constexpr std::size_t of_colony =
        1 + 3 * 4 + corners * 2 + points * 6 + ranks * 6 + kColonyQuantities.size() * sizeof(float);
    return 64 + run.colonies().size() * of_colony + run.bed_grid().size() * 3 * 2;
}

void add_body(const ColonyBody& body, Columns& to) {
    for (int k = 0; k < kSegments; ++k)
        to.corner_m.push_back(static_cast<float>(body.corner_m(k).norm()));
    const Profile& profile = body.profile();
    for (int p = 0; p < Profile::kMaxPoints; ++p) {
        const ProfilePoint& at = profile[std::min(p, profile.count - 1)];
        to.profile_share.push_back(static_cast<float>(at.s));
        to.profile_z_m.push_back(static_cast<float>(at.z_m));
    }
}

void add_no_body(Columns& to) {
    to.corner_m.insert(to.corner_m.end(), kCorners, kNone);
    to.profile_share.insert(to.profile_share.end(), kPoints, kNone);
    to.profile_z_m.insert(to.profile_z_m.end(), kPoints, kNone);
}

void add_shade(const ColonyRecord& record, Columns& to) {
    for (std::size_t rank = 0; rank < kShadeRanks; ++rank) {
        const bool taken = rank < record.shade_by.size();
        to.shaded_by.push_back(
            static_cast<std::int16_t>(taken ? record.shade_by[rank].colony : -1));
        to.shade_share.push_back(taken ? static_cast<float>(record.shade_by[rank].share) : 0.0F);
    }
}

void add_colony(const ColonyFacts& facts, const ColonyRecord& record, Columns& to) {
    to.stage.push_back(static_cast<std::uint8_t>(record.present ? record.stage : Stage::absent));
    for (int axis = 0; axis < 3; ++axis)
        to.position_m.push_back(static_cast<float>(record.position_m[axis]));
    if (can_be_drawn(record))
        add_body(ColonyBody(shape_of(facts, record)), to);
    else
        add_no_body(to);
    add_shade(record, to);
    for (std::size_t f = 0; f < kColonyQuantities.size(); ++f)
        to.figures[f].push_back(static_cast<float>(record.*kColonyQuantities[f].value));
}

void add_bed(const BedObservation& bed, Columns& to) {
    const auto append = [](const std::vector<double>& map, std::vector<float>& column) {
        for (const double value : map) column.push_back(static_cast<float>(value));
    };
    append(bed.ppfd_umol_m2_s, to.bed_ppfd);
    append(bed.deposition_kg_m2_d, to.bed_deposition);
    append(bed.shear_stress_Pa, to.bed_shear_stress);
}

Columns columns_of(const Trajectory& run, const std::vector<int>& snapshots) {
    Columns columns;
    for (const int snapshot : snapshots) {
        columns.days_d.push_back(run.days_d()[static_cast<std::size_t>(snapshot)]);
        const auto records = run.colonies_at(0, snapshot);
        for (std::size_t i = 0; i < records.size(); ++i)
            add_colony(run.colonies()[i], records[i], columns);
        add_bed(run.bed_at(0, snapshot), columns);
    }
    return columns;
}

ordered_json quantities_json(const Columns& columns, const std::vector<std::size_t>& shape) {
    ordered_json figures = ordered_json::object();
    for (std::size_t f = 0; f < kColonyQuantities.size(); ++f) {
        ordered_json quantity = packed(columns.figures[f], shape);
        quantity["units"] = kColonyQuantities[f].units;
        figures[kColonyQuantities[f].dataset] = std::move(quantity);
    }
    return figures;
}

/// The 10 % and 90 % points of one value over the members of an ensemble.
struct Band {
    std::vector<float> low, high;

    void add(std::vector<float>& values) {
        std::sort(values.begin(), values.end());
        low.push_back(values.empty() ? kNone : quantile(values, 0.1));
        high.push_back(values.empty() ? kNone : quantile(values, 0.9));
    }
};

/// The records of every member that got as far as a snapshot.
std::vector<std::vector<ColonyRecord>> members_at(const Trajectory& run, int snapshot) {
    std::vector<std::vector<ColonyRecord>> members;
    for (int member = 0; member < run.members(); ++member)
        if (snapshot < run.snapshots(member)) members.push_back(run.colonies_at(member, snapshot));
    return members;
}

std::vector<float> spread_of(const std::vector<std::vector<ColonyRecord>>& members,
                             std::size_t colony, double ColonyRecord::*quantity) {
    std::vector<float> values;
    for (const auto& records : members)
        if (std::isfinite(records[colony].*quantity))
            values.push_back(static_cast<float>(records[colony].*quantity));
    return values;
}

ordered_json bands_json(const Trajectory& run, const std::vector<int>& snapshots,
                        const std::vector<std::size_t>& shape) {
    std::array<Band, kColonyQuantities.size()> bands;
    for (const int snapshot : snapshots) {
        const auto members = members_at(run, snapshot);
        for (std::size_t i = 0; i < run.colonies().size(); ++i)
            for (std::size_t f = 0; f < kColonyQuantities.size(); ++f) {
                auto values = spread_of(members, i, kColonyQuantities[f].value);
                bands[f].add(values);
            }
    }
    ordered_json all = ordered_json::object();
    for (std::size_t f = 0; f < kColonyQuantities.size(); ++f)
        all[kColonyQuantities[f].dataset] = {{"low", packed(bands[f].low, shape)},
                                             {"high", packed(bands[f].high, shape)}};
    return all;
}

}  // namespace

std::vector<int> snapshots_shown(int snapshots, std::size_t bytes_per_snapshot) {
    const auto room = static_cast<int>(std::clamp<std::size_t>(
        kMostBytesShown / std::max<std::size_t>(bytes_per_snapshot, 1), 2, kMostSnapshotsShown));
    const int stride = std::max(1, (snapshots + room - 2) / (room - 1));
    std::vector<int> shown;
    for (int snapshot = 0; snapshot < snapshots; snapshot += stride) shown.push_back(snapshot);
    if (!shown.empty() && shown.back() != snapshots - 1) shown.push_back(snapshots - 1);
    return shown;
}

ordered_json replay_snapshots(const Trajectory& run) {
    const std::vector<int> snapshots = snapshots_shown(run.snapshots(0), bytes_of_snapshot(run));
    const Columns columns = columns_of(run, snapshots);
    const std::size_t t = snapshots.size(), c = run.colonies().size();
    const auto ny = static_cast<std::size_t>(run.bed_grid().ny);
    const auto nx = static_cast<std::size_t>(run.bed_grid().nx);
    ordered_json document = {
        {"days", columns.days_d},
        {"stage", packed(columns.stage, {t, c})},
        {"position", packed(columns.position_m, {t, c, 3})},
        {"corner", packed_in_steps(columns.corner_m, {t, c, kCorners})},
        {"profile_share", packed_in_steps(columns.profile_share, {t, c, kPoints})},
        {"profile_z", packed_in_steps(columns.profile_z_m, {t, c, kPoints})},
        {"shaded_by", packed(columns.shaded_by, {t, c, kShadeRanks})},
        {"shade_share", packed(columns.shade_share, {t, c, kShadeRanks})},
        {"figures", quantities_json(columns, {t, c})},
        {"bed_maps",
         {{"ppfd", packed_in_steps(columns.bed_ppfd, {t, ny, nx})},
          {"fallout", packed_in_steps(columns.bed_deposition, {t, ny, nx})},
          {"shear_stress", packed_in_steps(columns.bed_shear_stress, {t, ny, nx})}}}};
    if (run.members() > 1) document["bands"] = bands_json(run, snapshots, {t, c});
    return document;
}

}  // namespace bedshade
