// The sand that lies on a coral's tissue, followed exactly from one instant to the next.
//
// Between deposits dm/dt = D - k m, whose solution is an exponential, so the instants at which the
// load passes the smothering one come from a logarithm and not from a step: a colony dies on the
// same day whatever the season's step is.
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "model/reef/taxon.h"

namespace bedshade {

/// Sand that lands at one instant.
struct Deposit {
    double time_d = 0.0;
    double mass_kg_m2 = 0.0;  ///< on the tissue, before its shape sheds its share
    int inhabitant = -1;      ///< who threw it: index into Layout::inhabitants
};

/// What a colony's tissue faces in one step.
struct SandStep {
    double from_d = 0.0, to_d = 0.0;
    double deposition_kg_m2_d = 0.0;  ///< steady, before its shape sheds its share
    double kept_share = 1.0;          ///< of falling sand, by shape: Taxon::sand_trap [1]
    double rejection_per_d = 1.0;     ///< rejection_rate_per_d(...)
    double burial_d = 1.0;            ///< days of unbroken cover survived: Taxon::burial_d
    std::vector<Deposit> deposits;    ///< in [from_d, to_d), sorted by time
    /// Days of unbroken cover after which it has dug itself out, clean: kDigsOut_d of what can.
    double digs_out_d = std::numeric_limits<double>::infinity();
};

/// The load and how long it has been over the smothering one: what a step hands to the next
/// (ColonyState::sand_kg_m2 and sand_over_d).
struct SandLoad {
    double load_kg_m2 = 0.0;
    double over_d = 0.0;  ///< days over the limit without a break, up to now
};

struct SandOutcome {
    SandLoad end;
    std::optional<double> buried_at_d;  ///< when cover had lasted burial_d, if in (from_d, to_d]
    double dying_d = 0.0;               ///< days of the step in which cover had outlasted burial_d
    double mean_load_kg_m2 = 0.0;       ///< over the step
    double mean_transmittance = 1.0;    ///< of light through the sand, over the step [1]
};

/// Follows the load through a step. Deposits outside the step are a programmer's error. Cover that
/// had lasted burial_d before the step is not reported again.
SandOutcome follow_sand(const SandLoad& start, const SandStep& step);

}  // namespace bedshade
