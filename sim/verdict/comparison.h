// Compares two runs of one tank, with and without a change.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/base/flag.h"
#include "sim/verdict/run_means.h"

namespace bedshade {

/// One run of the comparison.
struct Arm {
    const Layout* layout = nullptr;
    std::vector<Flag> flags;
    std::vector<ColonyMeans> colonies;  ///< in the layout's order
    BedMeans bed;
    BedGrid grid;
};

/// A flag that only one run has, or that moved.
struct FlagChange {
    std::optional<Flag> before, after;
};

/// A colony, found in both layouts by its name, or in one.
struct ColonyChange {
    std::string name;
    std::optional<ColonyMeans> before, after;
};

struct Comparison {
    std::vector<FlagChange> flags;       ///< in order of the day they first matter
    std::vector<ColonyChange> colonies;  ///< those that differ at all, in the layouts' order
    bool bed_differs = false;

    /// Nothing differs, to the last bit.
    bool same() const { return flags.empty() && colonies.empty() && !bed_differs; }
};

/// A flag of one run is that of the other when it is of the same kind and colony (by name); it
/// has moved when its day differs. One whose culprit alone differs counts as moved too.
Comparison compared(const Arm& before, const Arm& after);

}  // namespace bedshade
