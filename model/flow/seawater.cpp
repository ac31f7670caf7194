#include "model/flow/seawater.h"

#include <cmath>

namespace bedshade {
namespace {

constexpr double kT68PerT90 = 1.00024;  // Saunders 1990
// Practical salinity 35 is 35.16504 g/kg of the reference composition (Millero et al. 2008).
constexpr double kPracticalPerGramKg = 35.0 / 35.16504;

double pure_water_density_kg_m3(double t) {
    return 999.842594 +
           t * (6.793952e-2 +
                t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
}

}  // namespace

double eos80_density_kg_m3(double s, double t) {
    const double a =
        8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
    const double b = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
    const double c = 4.8314e-4;
    return pure_water_density_kg_m3(t) + a * s + b * s * std::sqrt(s) + c * s * s;
}

double sharqawy_viscosity_Pa_s(double t, double s) {
    const double shifted = t + 64.992620050;
    const double pure = 4.2844324477e-5 + 1.0 / (0.15700386464 * shifted * shifted - 91.296496657);
    const double a = 1.5409136040 + t * (1.9981117208e-2 - t * 9.5203865864e-5);
    const double b = 7.9739318223 + t * (-7.5614568881e-2 + t * 4.7237011074e-4);
    return pure * (1.0 + s * (a + s * b));
}

Seawater seawater(const Water& water) {
    return {eos80_density_kg_m3(water.salinity_g_kg * kPracticalPerGramKg,
                                water.temperature_C * kT68PerT90),
            sharqawy_viscosity_Pa_s(water.temperature_C, water.salinity_g_kg * 1e-3)};
}

}  // namespace bedshade
