#include "model/flow/solver/wall_law.h"

#include <algorithm>
#include <cmath>

#include "model/flow/bed_stress.h"

namespace bedshade {
namespace {

/// u* squared over speed, from u/u* = 8.3 (u* y/nu)^(1/7) solved for u*.
double smooth_friction_m_s(double speed_m_s, double distance_m, double nu) {
    const double creeping = nu / distance_m;
    if (speed_m_s * distance_m <= 11.81 * 11.81 * nu) return creeping;
    const double u = std::pow(speed_m_s / 8.3, 7.0 / 8.0) * std::pow(creeping, 1.0 / 8.0);
    return u * u / speed_m_s;
}

}  // namespace

double wall_friction_velocity_m_s(const WallLaw& law, double speed_m_s, double distance_m) {
    const double smooth = smooth_friction_m_s(speed_m_s, distance_m, law.viscosity_m2_s);
    if (!(law.roughness_m > 0.0) || !(speed_m_s > 0.0)) return smooth;
    const double u = friction_velocity_m_s(speed_m_s, distance_m, law.roughness_m);
    return std::max(smooth, u * u / speed_m_s);
}

}  // namespace bedshade
