// Density and viscosity of sea water at atmospheric pressure.
#pragma once

#include "model/reef/water.h"

namespace bedshade {

inline constexpr double kGravity_m_s2 = 9.81;

struct Seawater {
    double density_kg_m3 = 0.0;
    double viscosity_Pa_s = 0.0;

    double kinematic_viscosity_m2_s() const { return viscosity_Pa_s / density_kg_m3; }
};

/// Sea water of the tank's temperature and salinity (0 to 40 degC, 0 to 42 g/kg).
Seawater seawater(const Water& water);

/// Density at one atmosphere [kg/m3], from practical salinity and temperature on the scale of 1968:
/// EOS-80 (Millero & Poisson 1981; UNESCO Technical Papers in Marine Science 44, 1983).
double eos80_density_kg_m3(double practical_salinity, double t68_C);

/// Viscosity [Pa s] from temperature [degC] and salinity [kg/kg] (Sharqawy, Lienhard & Zubair 2010,
/// Eqs. 22 and 23; +-1.5 % over 0 to 180 degC, 0 to 0.15 kg/kg).
double sharqawy_viscosity_Pa_s(double temperature_C, double salinity_kg_kg);

}  // namespace bedshade
