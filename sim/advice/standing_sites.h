// Where a coral could be set: on the sand or on top of rock, free of rock, inside the glass, and
// clear of its neighbours.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/reef/layout.h"

namespace bedshade {

struct StandingSite {
    Vec3 at_m = Vec3::Zero();  ///< of the base
    std::string on;            ///< "sand", a rock's name, or empty if the layout gives the height

    bool operator==(const StandingSite&) const = default;
};

/// Where a colony stands as set.
StandingSite baseline_site(const Colony& colony);

/// Sites on a grid of 2.5 cm at which a colony could be set, neighbours apart, row by row from the
/// front, its own as set first. Single polyps and discs that lie loose go on sand alone; others on
/// sand only where its grain gives them hold (common practice, no source).
std::vector<StandingSite> standing_sites(const Layout& layout, int colony);

/// Whether a colony at a site keeps a centimetre from all others as they are set now.
bool is_free_of_neighbours(const Layout& layout, int colony, const StandingSite& site);

/// Sets a colony there.
void set_down(Colony& colony, const StandingSite& site);

}  // namespace bedshade
