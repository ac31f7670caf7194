// Where sand leaves the bed and where it piles up, and which rock stands on sand that leaves.
#pragma once

#include <vector>

#include "model/base/bed_grid.h"
#include "model/reef/layout.h"

namespace bedshade {

/// Change of the bed's height in a mean month, cell by cell [mm], from sand come less sand gone
/// [kg m-2 d-1] at the bed's density and porosity. A rate of the bed as it is set: as it deepens a
/// scour slows down, which is not followed.
std::vector<double> net_change_mm_month(const Substrate& substrate,
                                        const std::vector<double>& net_change_kg_m2_d);

struct BedChangePoint {
    Vec2 site_m = Vec2::Zero();
    double mm_month = 0.0;
};

/// The cell that loses most (negative) and the one that gains most; of equal ones the first.
struct BedChange {
    BedChangePoint scoured, filled;
};
BedChange extremes_of(const BedGrid& grid, const std::vector<double>& mm_month);

/// A rock that rests on sand which is taken from beside it.
struct UnderminedRock {
    int rock = -1;             ///< index into Layout::rocks
    BedChangePoint scoured;    ///< the cell beside it that loses most; 0 where none loses much
    std::vector<int> diggers;  ///< inhabitants that dig beside it
};

/// What counts as beside a rock: within this of its foot [m].
inline constexpr double kBesideRock_m = 0.03;
/// Sand that goes no faster is no scour [mm a month]: a judgement, no source.
inline constexpr double kScour_mm_month = 1.0;

/// Rocks with `rests_on = "sand"` beside which the bed sinks or animals dig.
std::vector<UnderminedRock> undermined_rocks(const Layout& layout, const BedGrid& grid,
                                             const std::vector<double>& mm_month);

}  // namespace bedshade
