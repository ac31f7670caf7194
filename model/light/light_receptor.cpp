#include "model/light/light_receptor.h"

#include "model/base/low_discrepancy.h"

namespace bedshade {

LightReceptor bed_receptor(const BedGrid& bed, int i, int j) {
    constexpr double kBedLift_m = 1e-4;
    return {Vec3(bed.x_m(i), bed.y_m(j), kBedLift_m), Vec3::UnitZ(), 1.0,
            0.5 * Vec2(bed.cell_x_m, bed.cell_y_m)};
}

Vec3 sample_point(const LightReceptor& receptor, std::uint32_t k, const Vec2& shift) {
    if (receptor.half_width_m.isZero()) return receptor.position_m;
    const Vec2 point = low_discrepancy_point(k) + shift;
    const Vec2 from_middle = 2.0 * (point.array() - point.array().floor()) - 1.0;
    Vec3 at = receptor.position_m;
    at.head<2>() += from_middle.cwiseProduct(receptor.half_width_m);
    return at;
}

}  // namespace bedshade
