// One site of the bed as every coral that might stand there finds it.
#pragma once

#include <vector>

#include "sim/advice/bed_forecast.h"

namespace bedshade {

/// A colony near a site on each of the bed's days.
struct SiteNeighbour {
    struct Then {
        bool lives = false;
        double away_m = 0.0;               ///< in plan, from the site to its outline; 0 within it
        double low_m = 0.0, high_m = 0.0;  ///< of its body where it is nearest
    };
    int colony = -1;
    std::vector<Then> days;
};

struct Site {
    std::size_t cell = 0;  ///< that holds it: its light and rock are the cell's
    Vec2 at_m = Vec2::Zero();
    double grain_m = 0.0;
    double to_glass_m = 0.0;  ///< to the nearest pane
    std::vector<SiteNeighbour>
        neighbours;  ///< all that come within `search_radius_m`, in colony order
};

/// `search_radius_m`: neighbours whose outline stays farther off are of no concern.
Site site_of(const BedForecast& bed, const Vec2& at_m, double search_radius_m);

/// Gap between a round coral at the site and a neighbour on a day [m]; 0 where they overlap.
double gap_m(const SiteNeighbour::Then& then, double radius_m, double low_m, double high_m);

/// The lowest rock over a disc about the site [m]: 0 where rock stands on the bed there, infinite
/// for none.
double rock_over_m(const BedForecast& bed, const Site& site, double radius_m);

}  // namespace bedshade
