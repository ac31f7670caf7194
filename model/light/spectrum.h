// Photon spectrum of a lamp, as fractions on a fixed grid of wavelengths.
//
// Fractions are of photon flux in 400-700 nm (PAR, as a quantum sensor measures it), never of
// power. Photons are distributed to the two nearest grid points by linear weights, which conserves
// both their number and their mean wavelength.
#pragma once

#include <array>

#include "model/reef/lamp.h"

namespace bedshade {

inline constexpr int kBands = 61;
inline constexpr double kFirstBandNm = 400.0;
inline constexpr double kBandStepNm = 5.0;

/// One value for each grid wavelength, 400, 405 ... 700 nm.
using ByBand = std::array<double, kBands>;

constexpr double band_nm(int band) { return kFirstBandNm + kBandStepNm * band; }

/// Fraction of the photon flux in each band; the sum is 1.
struct Spectrum {
    ByBand share{};
};

/// Equal photon flux in every nanometre.
Spectrum flat_spectrum();

/// A single-colour light-emitting diode that peaks at `peak_nm` (clamped to 350-750 nm) with a full
/// width at half height `width_nm` > 0, with the shape of Ohno 2005.
Spectrum narrow_spectrum(double peak_nm, double width_nm);

/// A phosphor white: a blue pump (450 nm, 22 nm wide) and a broad phosphor (560 nm, 120 nm wide),
/// mixed so that the fraction of photons below 500 nm is that of a black body at this temperature.
/// The mixing rule is an assumption of this program. Its correlated colour temperature rises
/// monotonically; it is within 15 % of the nominal one at 5000-8000 K, and bluer above. Below about
/// 3000 K, where a black body is redder than the phosphor, it is the phosphor alone.
/// `temperature_K` > 0.
Spectrum white_spectrum(double temperature_K);

/// A measured spectrum, linear between its points and 0 outside them; flat when it has no photons
/// in 400-700 nm.
Spectrum tabulated_spectrum(const SpectrumTable& table);

/// The lamp's spectrum: its table where it has one, else its parts in proportion to their shares,
/// else flat.
Spectrum spectrum_of(const Lamp& lamp);

/// Typical full width at half height of a diode of this colour: 15 nm in the violet, 35 nm in the
/// green, 20 nm in the red (data sheets, from memory, +-30 %) [nm].
double usual_width_nm(double peak_nm);

/// Relative power at a wavelength of a diode that peaks at 1 (Ohno 2005, Opt. Eng. 44:111302):
/// (g + 2 g^5) / 3 with g = exp(-((nm - peak) / half_width)^2).
double ohno_shape(double wavelength_nm, double peak_nm, double half_width_nm);

/// Full width at half height of `ohno_shape` per unit of its half width: 2 sqrt(-ln g) where
/// g + 2 g^5 = 3/2.
inline constexpr double kOhnoFullWidth = 0.9218231;

/// Photons per joule of light of one wavelength [umol/J]: wavelength / (N_A h c), exact in SI.
constexpr double photons_umol_per_J(double wavelength_nm) { return wavelength_nm / 119.6265656; }

/// The same for a spectrum [umol/J].
double photons_umol_per_J(const Spectrum& spectrum);

/// Photon-weighted mean of a value over a spectrum.
double mean_over(const Spectrum& spectrum, const ByBand& value);

}  // namespace bedshade
