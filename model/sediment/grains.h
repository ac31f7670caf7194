// Sediment transport formulas: threshold of motion, pickup (resuspension), saltation, suspension
// and settling velocity.
//
// Grains are given by median diameter and density (of a porous skeletal grain: mineral and pore
// water together). Non-cohesive sand, 0.06 to about 5 mm.
#pragma once

#include "model/flow/seawater.h"

namespace bedshade {

struct Grain {
    double diameter_m = 1.0e-3;
    double density_kg_m3 = 2750.0;
};

/// Density of the grain under water over that of the water, s - 1 [1].
double submerged_ratio(const Grain& grain, const Seawater& sea);

/// D* = d ((s - 1) g/nu^2)^(1/3) [1].
double dimensionless_diameter(const Grain& grain, const Seawater& sea);

/// Shields parameter: tau/((rho_s - rho) g d) [1].
double shields(double stress_Pa, const Grain& grain, const Seawater& sea);

/// Critical Shields parameter of incipient motion (Soulsby & Whitehouse 1997). Published curves
/// differ by 10 to 20 %; platy skeletal sand moves sooner (Prager, Southard & Vivoni-Gallart 1996).
double critical_shields(const Grain& grain, const Seawater& sea);
double critical_stress_Pa(const Grain& grain, const Seawater& sea);

/// Factor on the critical stress for flow down a slope (negative: up) of sand with angle of repose
/// `repose_rad`; 0 at the angle of repose (Soulsby 1997, from memory).
double bed_slope_factor(double downslope_rad, double repose_rad);

/// Settling velocity of natural sand [m/s] (Soulsby 1997).
double settling_soulsby_m_s(const Grain& grain, const Seawater& sea);

/// Settling velocity [m/s] (Ferguson & Church 2004): c1 18 and c2 1.0 for natural sand by sieve
/// diameter, c2 0.4 for spheres. Published formulas differ by +-20 % for the same aragonite grain.
double settling_ferguson_church_m_s(const Grain& grain, const Seawater& sea, double c1 = 18.0,
                                    double c2 = 1.0);

/// Settling velocity [m/s] by shape: Corey shape factor (1 sphere, 0.7 typical sand, 0.5 platy) and
/// Powers roundness (6 perfectly round, 3.5 typical) (Dietrich 1982).
double settling_dietrich_m_s(const Grain& grain, const Seawater& sea, double corey_shape,
                             double powers_roundness);

/// Transport stage T = (tau - tau_cr)/tau_cr, 0 below the threshold [1].
double transport_stage(double stress_Pa, double critical_stress_Pa);

/// Pickup (resuspension) rate of a flat bed: 0.00033 rho_s sqrt((s - 1) g d) D*^0.3 T^1.5 [kg m-2
/// s-1] (van Rijn 1984, pick-up functions; from memory).
double pickup_kg_m2_s(double stage, const Grain& grain, const Seawater& sea);

/// Saltation height: 0.3 d D*^0.7 T^0.5 [m] (van Rijn 1984, part I; from memory).
double saltation_height_m(double stage, const Grain& grain, const Seawater& sea);

/// Bed load 8 (theta - 0.047)^1.5 sqrt((s - 1) g d^3), grain volume per width [m2/s]
/// (Meyer-Peter & Mueller 1948).
double bed_load_m2_s(double shields, const Grain& grain, const Seawater& sea);

/// Rouse number w/(kappa u*): below 2.5 grains are suspended, above 2.5 they only saltate [1].
double rouse_number(double settling_m_s, double friction_velocity_m_s);

/// Concentration at height z over that at height a in water of depth h (Rouse 1937) [1].
double rouse_profile(double rouse, double z_m, double a_m, double h_m);

/// Mass of a layer of deposited sand [kg/m2].
double layer_mass_kg_m2(double thickness_m, double grain_density_kg_m3, double porosity);

/// Settling flux of suspended sediment on a horizontal surface [kg m-2 s-1].
double settling_flux_kg_m2_s(double concentration_kg_m3, double settling_m_s);

}  // namespace bedshade
