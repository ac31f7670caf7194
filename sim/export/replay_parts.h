// The parts of the document that the replay page reads.
#pragma once

#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// Tank, bed grid, lamps, pumps, rocks as triangles, and what does not change of each colony.
nlohmann::ordered_json replay_setting(const Trajectory& run, const Layout& layout);

/// Flags in reporting order, each with its sentence; the members of an ensemble in which the same
/// flag was raised for the same colony make one entry.
nlohmann::ordered_json replay_flags(const Trajectory& run, const Layout& layout);
/// Events of the central member.
nlohmann::ordered_json replay_events(const Trajectory& run);

/// Which of `snapshots` are shown: all, or every k-th and the last, so that they are at most 2000
/// and hold at most 48 MB.
std::vector<int> snapshots_shown(int snapshots, std::size_t bytes_per_snapshot);

/// Days, and what changes from snapshot to snapshot, as packed arrays.
nlohmann::ordered_json replay_snapshots(const Trajectory& run);

}  // namespace bedshade
