// The lid-driven cavity and its published solutions.
#pragma once

#include <vector>

#include "model/flow/solver/incompressible_solver.h"

namespace bedshade::cases {

/// Velocities relative to the lid: minimum of u on the vertical centre line, maximum and minimum of
/// v on the horizontal one.
struct CavityExtremes {
    double least_u = 0.0, most_v = 0.0, least_v = 0.0;
};

// Marchi, Suero & Araki 2009.
inline constexpr CavityExtremes kPlaneCavity100{-0.2140424, 0.1795728, -0.2538030};
// Own stream-function Newton solver, 192 cells, extrapolated; agrees with Ghia, Ghia & Shin 1982
// except for two of their misprints.
inline constexpr CavityExtremes kPlaneCavity400{-0.3287, 0.3038, -0.4540};
// Botella & Peyret 1998.
inline constexpr CavityExtremes kPlaneCavity1000{-0.3885698, 0.3769447, -0.5270771};

struct CavityResult {
    CavityExtremes extremes;
    double divergence_per_s = 0.0;
};

/// A plane cavity of `cells` (even) a side, from rest, after `time_s` (lid at 1 m/s, side 1 m).
CavityResult plane_cavity(int cells, double reynolds, double time_s);

/// A velocity on a centre line of the cube: u at height y, or v at x.
struct CubeStation {
    double place = 0.0, published = 0.0, found = 0.0;
};
struct CubeResult {
    std::vector<CubeStation> u, v;

    double largest_off() const;
    double rms_off() const;
};

/// The cube at Re 1000 against Albensoeder & Kuhlmann 2005, tables 5 and 6.
CubeResult driven_cube(int cells, double time_s);

}  // namespace bedshade::cases
