// Of which colours a lamp's photons are, as shares on one fixed grid of wavelengths.
//
// Shares are of photon flux in 400-700 nm (what a quantum sensor counts), never of power. Each grid
// point stands for the photons around it, dealt to the two nearest points in proportion to
// closeness, which keeps both their number and their mean wavelength.
#pragma once

#include <array>

#include "model/reef/lamp.h"

namespace bedshade {

inline constexpr int kBands = 61;
inline constexpr double kFirstBandNm = 400.0;
inline constexpr double kBandStepNm = 5.0;

/// One figure for each grid wavelength, 400, 405 ... 700 nm.
using ByBand = std::array<double, kBands>;

constexpr double band_nm(int band) { return kFirstBandNm + kBandStepNm * band; }

/// Share of the photon flux in each band; they sum to 1.
struct Spectrum {
    ByBand share{};
};

/// As many photons in every nanometre.
Spectrum flat_spectrum();

/// A single-colour light-emitting diode that peaks at `peak_nm` (moved into 350-750 nm where it is
/// outside) with a full width at half height `width_nm` > 0, in the shape of Ohno 2005.
Spectrum narrow_spectrum(double peak_nm, double width_nm);

/// A phosphor white: a blue pump (450 nm, 22 nm wide) and a broad phosphor (560 nm, 120 nm wide),
/// mixed so that the share of photons below 500 nm is that of a black body at this temperature.
/// The mixing rule is this program's own. It rises steadily with the temperature; its correlated
/// colour temperature is within 15 % of the one asked for at 5000-8000 K, and bluer than asked for
/// above. Below about 3000 K, where a black body is redder than the phosphor, it is the bare
/// phosphor. `temperature_K` > 0.
Spectrum white_spectrum(double temperature_K);

/// A measured spectrum, linear between its points and nothing outside them; even where it holds no
/// photons in 400-700 nm.
Spectrum tabulated_spectrum(const SpectrumTable& table);

/// The lamp's spectrum: its table where it has one, else its parts in proportion to their shares,
/// else even photons.
Spectrum spectrum_of(const Lamp& lamp);

/// Full width at half height of a usual diode of this colour: 15 nm in the violet, 35 nm in the
/// green, 20 nm in the red (typical of data sheets, from memory, +-30 %) [nm].
double usual_width_nm(double peak_nm);

/// Relative power at a wavelength of a diode that peaks at 1 (Ohno 2005, Opt. Eng. 44:111302):
/// (g + 2 g^5) / 3 with g = exp(-((nm - peak) / half_width)^2).
double ohno_shape(double wavelength_nm, double peak_nm, double half_width_nm);

/// Full width at half height of `ohno_shape` per unit of its half width: 2 sqrt(-ln g) where
/// g + 2 g^5 = 3/2.
inline constexpr double kOhnoFullWidth = 0.9218231;

/// Photons in a joule of light of one wavelength [umol/J]: wavelength / (N_A h c), exact in SI.
constexpr double photons_umol_per_J(double wavelength_nm) { return wavelength_nm / 119.6265656; }

/// The same for a spectrum [umol/J].
double photons_umol_per_J(const Spectrum& spectrum);

/// Mean of a figure over the photons of a spectrum.
double mean_over(const Spectrum& spectrum, const ByBand& figure);

}  // namespace bedshade
