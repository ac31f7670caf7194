#include "sim/verdict/bed_change.h"

#include <algorithm>
#include <cmath>

#include "model/sediment/bioturbation.h"
#include "model/sediment/grains.h"

#include "sim/base/calendar.h"

namespace bedshade {
namespace {

/// Whether a rock's foot lies within kBesideRock_m of a spot.
bool is_beside(const Rock& rock, const Vec2& site_m) {
    constexpr int kAround = 8;
    constexpr double kFoot_m = 1e-3;
    if (inside(rock, Vec3(site_m.x(), site_m.y(), kFoot_m))) return true;
    for (int k = 0; k < kAround; ++k) {
        const double a = 2.0 * kPi * k / kAround;
        const Vec2 p = site_m + kBesideRock_m * Vec2(std::cos(a), std::sin(a));
        if (inside(rock, Vec3(p.x(), p.y(), kFoot_m))) return true;
    }
    return false;
}

UnderminedRock undermined_rock(const Layout& layout, int index, const BedGrid& grid,
                               const std::vector<double>& mm_month) {
    UnderminedRock found{index, {}, {}};
    const Rock& rock = layout.rocks[static_cast<std::size_t>(index)];
    std::vector<bool> digs(layout.inhabitants.size(), false);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Vec2 site(grid.x_m(i), grid.y_m(j));
            if (!is_beside(rock, site)) continue;
            const double mm = mm_month[grid.index(i, j)];
            if (mm < std::min(found.scoured.mm_month, -kScour_mm_month)) found.scoured = {site, mm};
            for (std::size_t k = 0; k < digs.size(); ++k) {
                const Inhabitant& who = layout.inhabitants[k];
                digs[k] = digs[k] ||
                          (lifted_kg_d(who) > 0.0 && (site - who.around_m).norm() <= who.radius_m);
            }
        }
    for (std::size_t k = 0; k < digs.size(); ++k)
        if (digs[k]) found.diggers.push_back(static_cast<int>(k));
    return found;
}

}  // namespace

std::vector<double> net_change_mm_month(const Substrate& substrate,
                                        const std::vector<double>& net_change_kg_m2_d) {
    const double kg_m2_of_mm = layer_mass_kg_m2(1e-3, substrate.density_kg_m3, substrate.porosity);
    std::vector<double> mm;
    mm.reserve(net_change_kg_m2_d.size());
    for (const double net_change : net_change_kg_m2_d)
        mm.push_back(net_change * kDaysPerMonth / kg_m2_of_mm);
    return mm;
}

BedChange extremes_of(const BedGrid& grid, const std::vector<double>& mm_month) {
    BedChange found;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const BedChangePoint here{Vec2(grid.x_m(i), grid.y_m(j)), mm_month[grid.index(i, j)]};
            if (here.mm_month < found.scoured.mm_month) found.scoured = here;
            if (here.mm_month > found.filled.mm_month) found.filled = here;
        }
    return found;
}

std::vector<UnderminedRock> undermined_rocks(const Layout& layout, const BedGrid& grid,
                                             const std::vector<double>& mm_month) {
    std::vector<UnderminedRock> found;
    for (std::size_t r = 0; r < layout.rocks.size(); ++r) {
        if (layout.rocks[r].rests_on != RestsOn::sand) continue;
        UnderminedRock rock = undermined_rock(layout, static_cast<int>(r), grid, mm_month);
        if (rock.scoured.mm_month < 0.0 || !rock.diggers.empty()) found.push_back(std::move(rock));
    }
    return found;
}

}  // namespace bedshade
