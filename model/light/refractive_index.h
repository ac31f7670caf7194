// Refractive indices: seawater, and the panes a tank is made of.
#pragma once

#include <array>
#include <optional>

#include "model/reef/tank.h"
#include "model/reef/water.h"

namespace bedshade {

/// Wavelength whose index is used for all of 400-700 nm. The index differs from it by less than 0.5
/// % over the whole range, and light under a point lamp by less than that [nm].
inline constexpr double kPpfdIndexNm = 480.0;

/// Index of seawater relative to air (Quan & Fry 1995, Appl. Opt. 34:3477; fitted over 0-30 degC,
/// 0-35 g/kg, 400-700 nm; a few degrees or g/kg beyond are extrapolated).
double seawater_refractive_index(double temperature_C, double salinity_g_kg, double wavelength_nm);

/// Index of a tank's water: the value set in the layout, else `seawater_refractive_index`.
double refractive_index(const Water& water, double wavelength_nm = kPpfdIndexNm);

/// Index of clear soda-lime float glass (Rubin 1985, Sol. Energy Mater. 12:275; 310-4600 nm).
double float_glass_refractive_index(double wavelength_nm);

/// Index of acrylic (PMMA; Sultanova, Kasarova & Nikolov 2009, Acta Phys. Pol. A 116:585;
/// 437-1052 nm, extrapolated to 400 nm).
double acrylic_refractive_index(double wavelength_nm);

/// Index of a side's pane at `kPpfdIndexNm`; none for a side that does not reflect specularly.
std::optional<double> pane_index(const Wall& wall);

/// The same of all four sides, by Side.
using PaneIndices = std::array<std::optional<double>, 4>;
PaneIndices pane_indices(const Tank& tank);

}  // namespace bedshade
