// Corals that are not fast to anything, day by day: they walk, and on rock may lose their place.
#pragma once

#include <vector>

#include "model/flow/flow_field.h"
#include "model/growth/surroundings.h"
#include "model/reef/reef.h"

namespace bedshade {

/// A stretch of days in one member.
struct LooseStep {
    const FlowField& flow;
    std::uint64_t seed = 0;
    std::uint32_t member = 0;
    double from_d = 0.0, to_d = 0.0;
    std::vector<Vec2> brighter;  ///< by colony, for days_walk_m
};

/// Moves every loose colony through the whole days that begin in [from_d, to_d), in the layout's
/// order, each among the others as they then stand, and tells which fell. `around` is made to
/// see `reef`, and both are brought along.
std::vector<Fall> move_loose(const LooseStep& step, Surroundings& around, Reef& reef);

/// For days_walk_m: where light is stronger among a colony's patches, ring by ring as live_patches
/// gives them, and by how much.
Vec2 brighter_side(const std::vector<double>& patch_umol_m2_s, std::size_t lamps);

}  // namespace bedshade
