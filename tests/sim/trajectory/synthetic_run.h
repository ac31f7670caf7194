// A made-up run whose every number is a function of where it stands, so that any mix-up shows.
#pragma once

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <unistd.h>

#include "model/base/bed_grid.h"

#include "sim/base/calendar.h"
#include "sim/base/flag.h"
#include "sim/run/event.h"
#include "sim/run/snapshot.h"
#include "sim/trajectory/run_provenance.h"
#include "sim/trajectory/trajectory_writer.h"

namespace bedshade::synthetic {

/// A folder of its own that goes away with it.
class Folder {
  public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "bedshade-XXXXXX").string();
        path_ = ::mkdtemp(name.data());
    }
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

inline std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

inline Layout layout(int colonies) {
    Layout layout;
    layout.title = "made up, with an umlaut: Südsee";
    layout.season.start = *calendar_day(2027, 1, 1);
    for (const Form form : kForms) {
        Taxon taxon;
        taxon.id = std::string("taxon-") + to_string(form);
        taxon.form = form;
        layout.taxa.push_back(taxon);
    }
    for (int i = 0; i < colonies; ++i) {
        Colony colony;
        colony.name = "colony " + std::string(static_cast<std::size_t>(i), 'x');
        colony.taxon = i % static_cast<int>(layout.taxa.size());
        colony.on = i % 2 == 0 ? "sand" : "ledge";
        colony.facing_azimuth_rad = 0.1 * i;
        colony.facing_tilt_rad = 0.01 * i;
        layout.colonies.push_back(colony);
    }
    return layout;
}

inline BedGrid bed() { return {6, 4, 0.025, 0.03}; }

inline RunProvenance facts(int members = 1) {
    return {0xfedcba9876543210ULL, members, "0.1.0", "7", "title = \"made up\"\n", "id,form\n"};
}

inline FlowSample flow() {
    FlowSample flow;
    flow.x_m = {0.1, 0.2, 0.3};
    flow.y_m = {0.1, 0.2};
    flow.z_m = {0.0, 0.05, 0.1, 0.2};
    flow.states = 2;
    for (std::size_t i = 0; i < flow.points(); ++i) {
        flow.turbulent_speed_m_s.push_back(0.001F * static_cast<float>(i));
        for (int axis = 0; axis < 3; ++axis)
            flow.velocity_m_s.push_back(static_cast<float>(i) + 0.1F * static_cast<float>(axis));
    }
    return flow;
}

/// The colony that is taken out on the way.
inline constexpr int kLeaver = 1;
inline constexpr int kLeaves = 20;

inline ColonyState state(int member, int snapshot, int colony) {
    ColonyState state;
    const double at = 1000.0 * member + snapshot + 0.01 * colony;
    state.present = colony != kLeaver || snapshot < kLeaves;
    state.stage = static_cast<Stage>(1 + (snapshot + colony) % 6);
    state.position_m = {at, at + 0.25, at + 0.5};
    for (int s = 0; s < kSectors; ++s)
        state.radius_m[static_cast<std::size_t>(s)] = 0.01 * (s + 1) + 0.001 * at;
    state.height_m = 0.1 + at;
    state.live_fraction = 1.0 / (1.0 + at);
    state.reserve = 1.0 / (2.0 + at);
    state.sand_kg_m2 = 3.0 + at;
    return state;
}

/// More neighbours than are kept by name: shares 1/2, 1/4, 1/8 …
inline ColonyObservation observation(int member, int snapshot, int colony) {
    ColonyObservation observation;
    const double at = 1000.0 * member + snapshot + 0.01 * colony;
    observation.ppfd_mean_umol_m2_s = 100.0 + at;
    observation.dli_mol_m2_d = 5.0 + at;
    observation.need_dli_mol_m2_d = 2.0 + at;
    observation.net_carbon = -at;
    observation.flow_speed_m_s = 0.05 + at;
    for (int rank = 0; rank < colony; ++rank)
        observation.shade_by.push_back({rank, std::ldexp(1.0, -1 - rank)});
    return observation;
}

inline Snapshot snapshot(int member, int index, int colonies) {
    Snapshot snapshot;
    snapshot.day_d = 7.0 * index;
    snapshot.step_d = 7.0;
    snapshot.reef.day_d = snapshot.day_d;
    for (int i = 0; i < colonies; ++i) {
        snapshot.reef.colonies.push_back(state(member, index, i));
        snapshot.colonies.push_back(observation(member, index, i));
    }
    for (std::size_t cell = 0; cell < bed().size(); ++cell) {
        const double at = 1000.0 * member + index + 0.01 * static_cast<double>(cell);
        snapshot.bed.ppfd_umol_m2_s.push_back(at);
        snapshot.bed.shear_stress_Pa.push_back(0.1 + at);
        snapshot.bed.deposition_kg_m2_d.push_back(0.2 + at);
    }
    return snapshot;
}

/// More than the ranks of shade that a file tells one by one.
inline constexpr int kColonies = 13;

inline Flag flag(int member = 0) {
    Flag flag;
    flag.kind = FlagKind::light_short;
    flag.member = member;
    flag.month = 13;
    flag.day_d = 371.0;
    flag.colony = 4;
    flag.culprit_kind = CulpritKind::colony;
    flag.culprit = 2;
    flag.share = 0.1;  // no exact binary fraction
    flag.detail = {{"net_carbon", -0.1}, {"dli_mol_m2_d", 1.0 / 3.0}, {"a \"quoted\" name", 0.0}};
    return flag;
}

/// A finished run of one member.
inline void write_run(const std::filesystem::path& path, int snapshots) {
    const FlowSample sample = flow();
    TrajectoryWriter writer(path, layout(kColonies), bed(), facts(), &sample);
    for (int i = 0; i < snapshots; ++i) writer.take(snapshot(0, i, kColonies));
    writer.add(flag());
    writer.add(EventRecord{7.0, 0, "trim", 3, "A3 trimmed to 15 cm"});
    writer.finish();
}

}  // namespace bedshade::synthetic
