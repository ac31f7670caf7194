#include "model/sediment/saltation.h"

#include <algorithm>
#include <cmath>

#include "model/flow/bed_stress.h"
#include "model/sediment/grains.h"
#include "model/sediment/open_sand.h"

namespace bedshade {
namespace {

constexpr double kSuspensionRouseNumber = 2.5;

double mean_saltation_height_m(double stage, double stress_Pa, const Grain& grain,
                               double settling_m_s, const Seawater& sea) {
    const double u = std::sqrt(stress_Pa / sea.density_kg_m3);
    const double suspended =
        std::max(0.0, 1.0 - rouse_number(settling_m_s, u) / kSuspensionRouseNumber);
    return saltation_height_m(stage, grain, sea) +
           suspended * kVonKarman * u * kStressHeight_m / settling_m_s;
}

CellSaltation motion_at(const Vec2& spot_m, const Substrate& substrate, const FlowField& flow,
                        const std::vector<FlowBody>& corals, const Seawater& sea,
                        std::size_t setting) {
    const Vec3 above(spot_m.x(), spot_m.y(), kStressHeight_m);
    const Grain grain{substrate.grain_at_m(spot_m), substrate.density_kg_m3};
    const Vec3 velocity = flow.setting_velocity_m_s(setting, above);
    const double speed =
        flow.setting_speed_m_s(setting, above) * wake_factor(corals, -1, above, velocity);
    CellSaltation cell;
    cell.open = true;
    cell.stress_Pa = bed_stress_Pa(speed, kStressHeight_m, grain.diameter_m, sea);
    const double stage = transport_stage(cell.stress_Pa, critical_stress_Pa(grain, sea));
    if (stage <= 0.0) return cell;
    const double settling_m_s = settling_soulsby_m_s(grain, sea);
    cell.pickup_kg_m2_s = pickup_kg_m2_s(stage, grain, sea);
    cell.saltation_height_m =
        mean_saltation_height_m(stage, cell.stress_Pa, grain, settling_m_s, sea);
    cell.saltation_length_m = speed * cell.saltation_height_m / settling_m_s;
    const Vec2 along = velocity.head<2>();
    if (along.norm() > 0.0) cell.flow_direction = along.normalized();
    return cell;
}

}  // namespace

std::vector<CellSaltation> saltation_on(const BedGrid& grid, const Tank& tank,
                                        const Substrate& substrate, const std::vector<Rock>& rocks,
                                        const FlowField& flow, const std::vector<FlowBody>& corals,
                                        const Seawater& sea, std::size_t setting) {
    std::vector<CellSaltation> cells(grid.size());
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Vec2 spot(grid.x_m(i), grid.y_m(j));
            if (open_sand(spot, tank, rocks))
                cells[grid.index(i, j)] = motion_at(spot, substrate, flow, corals, sea, setting);
        }
    return cells;
}

}  // namespace bedshade
