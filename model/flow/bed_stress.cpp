#include "model/flow/bed_stress.h"

#include <algorithm>
#include <cmath>

namespace bedshade {

double rough_z0_m(double grain_m) { return grain_m / 12.0; }

double transitional_z0_m(double grain_m, double u, const Seawater& sea) {
    const double ks = 2.5 * grain_m;
    const double nu = sea.kinematic_viscosity_m2_s();
    return ks / 30.0 * (1.0 - std::exp(-u * ks / (27.0 * nu))) + nu / (9.0 * u);
}

double friction_velocity_m_s(double speed_m_s, double height_m, double z0_m) {
    // There is no log layer below z0 times e; the limit avoids the pole.
    return kVonKarman * speed_m_s / std::log(std::max(height_m / z0_m, std::exp(1.0)));
}

double bed_stress_Pa(double speed_m_s, double height_m, double grain_m, const Seawater& sea) {
    if (!(speed_m_s > 0.0)) return 0.0;
    double u = friction_velocity_m_s(speed_m_s, height_m, rough_z0_m(grain_m));
    // A contraction: each iteration changes u* by d ln z0 / ln(z/z0), a fifth or less of the last
    // change.
    for (int iteration = 0; iteration < 30; ++iteration) {
        const double next =
            friction_velocity_m_s(speed_m_s, height_m, transitional_z0_m(grain_m, u, sea));
        const bool converged = std::abs(next - u) <= 1e-14 * u;
        u = next;
        if (converged) break;
    }
    return sea.density_kg_m3 * u * u;
}

}  // namespace bedshade
