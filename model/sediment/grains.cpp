#include "model/sediment/grains.h"

#include <algorithm>
#include <cmath>

#include "model/flow/bed_stress.h"

namespace bedshade {

double submerged_ratio(const Grain& grain, const Seawater& sea) {
    return grain.density_kg_m3 / sea.density_kg_m3 - 1.0;
}

double dimensionless_diameter(const Grain& grain, const Seawater& sea) {
    const double nu = sea.kinematic_viscosity_m2_s();
    return grain.diameter_m * std::cbrt(submerged_ratio(grain, sea) * kGravity_m_s2 / (nu * nu));
}

double shields(double stress_Pa, const Grain& grain, const Seawater& sea) {
    return stress_Pa /
           ((grain.density_kg_m3 - sea.density_kg_m3) * kGravity_m_s2 * grain.diameter_m);
}

double critical_shields(const Grain& grain, const Seawater& sea) {
    const double d = dimensionless_diameter(grain, sea);
    return 0.30 / (1.0 + 1.2 * d) + 0.055 * (1.0 - std::exp(-0.020 * d));
}

double critical_stress_Pa(const Grain& grain, const Seawater& sea) {
    return critical_shields(grain, sea) / shields(1.0, grain, sea);
}

double bed_slope_factor(double downslope_rad, double repose_rad) {
    return std::max(0.0, std::sin(repose_rad - downslope_rad) / std::sin(repose_rad));
}

double settling_soulsby_m_s(const Grain& grain, const Seawater& sea) {
    const double d = dimensionless_diameter(grain, sea);
    const double a = 10.36;
    return sea.kinematic_viscosity_m2_s() / grain.diameter_m *
           (std::sqrt(a * a + 1.049 * d * d * d) - a);
}

double settling_ferguson_church_m_s(const Grain& grain, const Seawater& sea, double c1, double c2) {
    const double d = grain.diameter_m;
    const double weight = submerged_ratio(grain, sea) * kGravity_m_s2 * d * d;
    return weight / (c1 * sea.kinematic_viscosity_m2_s() + std::sqrt(0.75 * c2 * weight * d));
}

double settling_dietrich_m_s(const Grain& grain, const Seawater& sea, double corey_shape,
                             double powers_roundness) {
    const double d = dimensionless_diameter(grain, sea);
    const double l = std::log10(d * d * d);
    const double flat = 1.0 - corey_shape;
    const double bend = std::tanh(l - 4.6);
    const double r1 = -3.76715 + l * (1.92944 + l * (-0.09815 + l * (-0.00575 + l * 0.00056)));
    const double r2 = std::log10(1.0 - flat / 0.85) - std::pow(flat, 2.3) * bend +
                      0.3 * (0.5 - corey_shape) * flat * flat * (l - 4.6);
    const double r3 =
        std::pow(0.65 - corey_shape / 2.83 * bend, 1.0 + (3.5 - powers_roundness) / 2.5);
    const double w = r3 * std::pow(10.0, r1 + r2);
    return std::cbrt(w * submerged_ratio(grain, sea) * kGravity_m_s2 *
                     sea.kinematic_viscosity_m2_s());
}

double transport_stage(double stress_Pa, double critical_stress_Pa) {
    return std::max(0.0, stress_Pa / critical_stress_Pa - 1.0);
}

double pickup_kg_m2_s(double stage, const Grain& grain, const Seawater& sea) {
    const double scale = std::sqrt(submerged_ratio(grain, sea) * kGravity_m_s2 * grain.diameter_m);
    return 0.00033 * grain.density_kg_m3 * scale *
           std::pow(dimensionless_diameter(grain, sea), 0.3) * stage * std::sqrt(stage);
}

double saltation_height_m(double stage, const Grain& grain, const Seawater& sea) {
    return 0.3 * grain.diameter_m * std::pow(dimensionless_diameter(grain, sea), 0.7) *
           std::sqrt(stage);
}

double bed_load_m2_s(double shields, const Grain& grain, const Seawater& sea) {
    const double excess = std::max(0.0, shields - 0.047);
    const double d = grain.diameter_m;
    return 8.0 * excess * std::sqrt(excess) *
           std::sqrt(submerged_ratio(grain, sea) * kGravity_m_s2 * d * d * d);
}

double rouse_number(double settling_m_s, double friction_velocity_m_s) {
    return settling_m_s / (kVonKarman * friction_velocity_m_s);
}

double rouse_profile(double rouse, double z_m, double a_m, double h_m) {
    return std::pow((h_m - z_m) / z_m * a_m / (h_m - a_m), rouse);
}

double layer_mass_kg_m2(double thickness_m, double grain_density_kg_m3, double porosity) {
    return thickness_m * grain_density_kg_m3 * (1.0 - porosity);
}

double settling_flux_kg_m2_s(double concentration_kg_m3, double settling_m_s) {
    return concentration_kg_m3 * settling_m_s;
}

}  // namespace bedshade
