// Sand load: the mass of sand on a coral's tissue, integrated exactly (no time step error).
//
//   dm/dt = D - k m      between deposits, with the exact solution
//   m(t)  = D/k + (m0 - D/k) exp(-k t)      (m0 + D t for k = 0)
//
// m: load on the tissue [kg/m2]; D: steady deposition that the shape keeps [kg m-2 d-1]
// (kept_share times deposition_kg_m2_d); k: sediment rejection rate [1/d] (rejection_rate_per_d);
// t: time [d]. A deposit (one bioturbation event) adds kept_share times its mass at one instant.
// The times at which m crosses the smothering load kSmotheringLoad_kg_m2 follow from the logarithm
// of the solution, so a colony dies on the same day whatever the step of the run. Light through the
// load is exp(-m/l), l = kDimmingLoad_kg_m2; its time mean is a difference of exponential
// integrals.
//
// First-order rejection is an assumption; rates and limits with sources: sediment_rejection.h.
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "model/reef/taxon.h"

namespace bedshade {

/// Sand that lands at one instant.
struct Deposit {
    double time_d = 0.0;
    double mass_kg_m2 = 0.0;  ///< falling on the tissue, before shedding by its shape
    int inhabitant = -1;      ///< the source: index into Layout::inhabitants
};

/// Sand on a colony's tissue in one step.
struct SandStep {
    double from_d = 0.0, to_d = 0.0;
    double deposition_kg_m2_d = 0.0;  ///< D before shedding by its shape
    double kept_share = 1.0;          ///< fraction of D that the shape keeps: Taxon::sand_trap [1]
    double rejection_per_d = 1.0;     ///< k: rejection_rate_per_d(...)
    double burial_d = 1.0;            ///< days of unbroken cover survived: Taxon::burial_d
    std::vector<Deposit> deposits;    ///< in [from_d, to_d), sorted by time
    /// Days of unbroken cover after which it has excavated itself and is clean: kDigsOut_d for
    /// corals that can.
    double digs_out_d = std::numeric_limits<double>::infinity();
};

/// State carried from step to step (ColonyState::sand_kg_m2 and sand_over_d).
struct SandLoad {
    double load_kg_m2 = 0.0;
    double over_d = 0.0;  ///< days without a break over the smothering load, up to now
};

struct SandOutcome {
    SandLoad end;
    std::optional<double> buried_at_d;  ///< when cover had lasted burial_d, if in (from_d, to_d]
    double dying_d = 0.0;               ///< days of the step in which cover had outlasted burial_d
    double mean_load_kg_m2 = 0.0;       ///< over the step
    double mean_transmittance = 1.0;    ///< of light through the sand, over the step [1]
};

/// Integrates the load over a step. Deposits must lie inside the step. Cover that had lasted
/// burial_d before the step is not reported again.
SandOutcome follow_sand(const SandLoad& start, const SandStep& step);

}  // namespace bedshade
