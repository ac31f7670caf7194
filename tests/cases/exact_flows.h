// Flows that are known exactly, as the solver finds them.
#pragma once

namespace bedshade::cases {

// Water between plates 2 cm apart under 1 Pa/m, viscosity 9.59e-4 Pa s: G H^2/(8 mu).
inline constexpr double kPlatesFastest_m_s = 0.02 * 0.02 / (8.0 * 9.59e-4);
/// Fastest flow between those plates, run until steady, on an odd number of cells [m/s].
double plates_fastest_m_s(int cells);

struct DuctFlow {
    double fastest = 0.0, mean = 0.0;
};
// In units of side^2 G/mu (series; Shah & London 1978).
inline constexpr DuctFlow kSquareDuct{0.073671, 0.035144};
/// A square duct of side 1 m, viscosity 1 m2/s, pushed by 1 m/s2.
DuctFlow square_duct(int cells);

/// Largest error of u in Taylor and Green's decaying vortices after 1 s, viscosity 0.05 m2/s,
/// speeds up to 1 m/s, steps of 0.16 cells [m/s].
double vortex_error_m_s(int cells);
/// Kinetic energy left of them after `time_s`, as a share, on `cells` a side, viscosity `nu_m2_s`.
double vortex_energy_left(int cells, double nu_m2_s, double time_s);

/// Largest error on the axis, as a share of the speed there, after the exact laminar round jet
/// (Landau 1944; Squire 1951; from memory) has been left to the solver with nothing but its
/// velocity at the sides of a box that it passes.
double laminar_jet_error(int cells);

/// Observed order of accuracy from errors on cells `ratio` times smaller.
double order_of(double coarse_error, double fine_error, double ratio);

}  // namespace bedshade::cases
