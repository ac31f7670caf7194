// Numerical solutions of flows with exact solutions.
#pragma once

namespace bedshade::cases {

// Plane Poiseuille flow, plates 2 cm apart, 1 Pa/m, viscosity 9.59e-4 Pa s: G H^2/(8 mu).
inline constexpr double kPlatesFastest_m_s = 0.02 * 0.02 / (8.0 * 9.59e-4);
/// Largest speed between those plates in steady state, on an odd number of cells [m/s].
double plates_fastest_m_s(int cells);

struct DuctFlow {
    double fastest = 0.0, mean = 0.0;
};
// In units of side^2 G/mu (series; Shah & London 1978).
inline constexpr DuctFlow kSquareDuct{0.073671, 0.035144};
/// A square duct of side 1 m, viscosity 1 m2/s, body force 1 m/s2.
DuctFlow square_duct(int cells);

/// Largest error of u in Taylor and Green's decaying vortices after 1 s, viscosity 0.05 m2/s,
/// speeds up to 1 m/s, steps of 0.16 cells [m/s].
double vortex_error_m_s(int cells);
/// Fraction of their kinetic energy left after `time_s`, on `cells` a side, viscosity `nu_m2_s`.
double vortex_energy_left(int cells, double nu_m2_s, double time_s);

/// Largest relative error of the speed on the axis of the exact laminar round jet (Landau 1944;
/// Squire 1951; from memory), solved in a box with the exact velocity on its sides.
double laminar_jet_error(int cells);

/// Observed order of accuracy from errors on cells `ratio` times smaller.
double order_of(double coarse_error, double fine_error, double ratio);

}  // namespace bedshade::cases
