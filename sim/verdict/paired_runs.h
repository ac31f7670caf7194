// Compares two runs in pairs of members: both runs of a pair have the same random numbers, so that
// a difference is an effect of the change.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/base/flag.h"
#include "sim/verdict/run_means.h"

namespace bedshade {

/// One arm of one member.
struct MemberRun {
    std::vector<Flag> flags;
    std::vector<ColonyMeans> colonies;  ///< in its layout's order
};
struct MemberPair {
    MemberRun before, after;
};

/// A flag that any run of either arm raised.
struct PairedFlag {
    FlagKind kind = FlagKind::too_dim;
    std::string colony;
    int gained = 0;                    ///< runs that raise it with the change only
    int lost = 0;                      ///< without it only
    std::vector<double> shift_months;  ///< later (positive) with it, of runs with both; rising

    bool differs() const;
};

/// A difference over the runs.
struct PairedSpread {
    double mean = 0.0, low = 0.0, high = 0.0;  ///< 5 and 95 % of the runs

    bool operator==(const PairedSpread&) const = default;
};

/// The values of a run that are compared in pairs.
struct PairedQuantity {
    const char* name;  ///< of the value in JSON, with its unit
    double ColonyMeans::*value;
    double factor;  ///< to that unit
};
inline constexpr std::array kPairedQuantities = {
    PairedQuantity{"dli_mol_m2_d", &ColonyMeans::dli_mol_m2_d, 1.0},
    PairedQuantity{"flow_speed_cm_s", &ColonyMeans::flow_speed_m_s, 100.0},
    PairedQuantity{"fallout_mg_cm2_d", &ColonyMeans::deposition_kg_m2_d, 100.0},
    PairedQuantity{"most_sand_mg_cm2", &ColonyMeans::most_sand_kg_m2, 100.0},
    PairedQuantity{"end_live", &ColonyMeans::end_live_fraction, 1.0}};

/// A colony that is in both layouts: values with the change minus those without, in the order
/// and units of kPairedQuantities.
struct PairedColony {
    std::string name;
    std::array<PairedSpread, kPairedQuantities.size()> difference{};

    bool differs() const;
};

struct PairedRuns {
    int runs = 0;
    std::vector<PairedFlag> flags;       ///< by colony's name, then kind
    std::vector<PairedColony> colonies;  ///< in the first layout's order

    /// No run differs in any flag or value.
    bool same() const;
};

/// `pairs` is by member; each has a run of every colony of its layout.
PairedRuns paired(const Layout& before, const Layout& after, const std::vector<MemberPair>& pairs);

}  // namespace bedshade
