#include "model/sediment/deposition.h"

#include <algorithm>
#include <cmath>

#include "model/base/days.h"
#include "model/flow/bed_stress.h"
#include "model/sediment/grains.h"

namespace bedshade {
namespace {

/// Spread of a landing beyond its cell, and of each hop per length: guesses.
constexpr double kLeastSpread_m = 0.01;
constexpr double kSpreadPerHop = 0.3;

/// Traces the sand of one cell along the flow until it is deposited.
class SaltationPath {
  public:
    SaltationPath(const BedGrid& grid, const Tank& tank, const std::vector<CellSaltation>& cells)
        : grid_(grid), tank_(tank), cells_(cells) {}

    /// Where sand of the cell (i, j) lands; `saltation_height_m` becomes the height of its last
    /// hop.
    Footprint landing(int i, int j, double& saltation_height_m) const {
        Vec2 at(grid_.x_m(i), grid_.y_m(j));
        double variance = kLeastSpread_m * kLeastSpread_m + grid_.cell_area_m2() / 12.0;
        // Limits the path of sand that circulates in an eddy or oscillates where two jets meet.
        const int most_steps = 4 * (grid_.nx + grid_.ny);
        for (int step = 0; step < most_steps; ++step) {
            const CellSaltation& here = cell_at(at);
            saltation_height_m = here.saltation_height_m;
            const double length = step_m(here);
            const Vec2 next = at + length * here.flow_direction;
            variance += kSpreadPerHop * kSpreadPerHop * here.saltation_length_m * length;
            if (!in_tank(next) || !cell_at(next).open) break;
            at = next;
            if (!cell_at(at).moves()) break;
        }
        return {at, std::sqrt(variance)};
    }

  private:
    /// Several short hops make one step, of half a cell at least.
    double step_m(const CellSaltation& cell) const {
        return std::max(cell.saltation_length_m, 0.5 * std::min(grid_.cell_x_m, grid_.cell_y_m));
    }
    bool in_tank(const Vec2& p) const {
        return p.x() >= 0.0 && p.y() >= 0.0 && p.x() <= tank_.length_m && p.y() <= tank_.width_m;
    }
    const CellSaltation& cell_at(const Vec2& p) const {
        return cells_[grid_.index(grid_.column_at(p.x()), grid_.row_at(p.y()))];
    }

    const BedGrid& grid_;
    const Tank& tank_;
    const std::vector<CellSaltation>& cells_;
};

/// Time-weighted mean pickup of a cell over all settings [kg m-2 d-1].
double mean_pickup_kg_m2_d(std::size_t cell, const FlowField& flow,
                           const std::vector<std::vector<CellSaltation>>& motion) {
    double sum = 0.0;
    for (std::size_t s = 0; s < motion.size(); ++s)
        sum += flow.settings()[s].time_share * motion[s][cell].pickup_kg_m2_s;
    return sum * kSecondsPerDay;
}

}  // namespace

double daily_supply_kg_m2_d(double grain_m, const Substrate& substrate) {
    return layer_mass_kg_m2(grain_m, substrate.density_kg_m3, substrate.porosity);
}

std::vector<ResuspendedSand> resuspended_sand(
    const BedGrid& grid, const Tank& tank, const Substrate& substrate, const FlowField& flow,
    const std::vector<std::vector<CellSaltation>>& motion) {
    std::vector<ResuspendedSand> all;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t cell = grid.index(i, j);
            const double pickup = mean_pickup_kg_m2_d(cell, flow, motion);
            if (pickup <= 0.0) continue;
            const Vec2 spot(grid.x_m(i), grid.y_m(j));
            const double supply = daily_supply_kg_m2_d(substrate.grain_at_m(spot), substrate);
            const double limited = std::min(1.0, supply / pickup) * grid.cell_area_m2();
            const Vec3 above(spot.x(), spot.y(), kStressHeight_m);
            for (std::size_t s = 0; s < motion.size(); ++s) {
                if (!motion[s][cell].moves()) continue;
                ResuspendedSand sand{cell, s, 0.0, 0.0, {}, flow.setting_pump_shares(s, above)};
                sand.rate_kg_d = limited * flow.settings()[s].time_share * kSecondsPerDay *
                                 motion[s][cell].pickup_kg_m2_s;
                sand.footprint =
                    SaltationPath(grid, tank, motion[s]).landing(i, j, sand.saltation_height_m);
                all.push_back(std::move(sand));
            }
        }
    return all;
}

double deposition_kg_m2_d(const ResuspendedSand& resuspended, const SandReceptor& receptor,
                          const Tank& tank) {
    const double height = std::max(receptor.at_m.z(), 0.0);
    if (height >= resuspended.saltation_height_m) return 0.0;
    return resuspended.rate_kg_d * (1.0 - height / resuspended.saltation_height_m) *
           resuspended.footprint.density_per_m2(receptor.at_m.head<2>(), receptor.radius_m, tank);
}

}  // namespace bedshade
