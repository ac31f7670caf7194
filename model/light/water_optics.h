// What the water takes out of the light: by wavelength, and for a lamp's whole spectrum over a
// path.
//
// Water itself, dissolved colour and particles add up. Light that particles turn only a little
// still arrives, so what a beam loses is what is absorbed or thrown back (a + b_b, the lower bound
// of a beam's attenuation).
#pragma once

#include <vector>

#include "model/light/spectrum.h"
#include "model/reef/water.h"

namespace bedshade {

/// Absorption by pure water at 22 degC (Pope & Fry 1997, Appl. Opt. 36:8710), linear between their
/// 5 nm steps; 400-700 nm, held at its ends outside [1/m].
double pure_water_absorption_per_m(double wavelength_nm);

/// What temperature and salt add to it (IOCCG 2018 protocol for absorption, its table of linear
/// coefficients); never more than 0.005 1/m in a tank, may be negative [1/m].
double absorption_shift_per_m(double wavelength_nm, double temperature_C, double salinity_g_kg);

/// Scattering by seawater's own molecules, half of it backward (Smith & Baker 1981, Appl. Opt.
/// 20:177) [1/m].
double sea_scattering_per_m(double wavelength_nm);

/// How fast dissolved colour fades toward the red. Measured means are 0.014 (Bricaud, Morel &
/// Prieur 1981, L&O 26:43, from memory) and 0.0165 +- 0.0035 (Schwarz et al. 2002, Oceanologia
/// 44:209) [1/nm].
inline constexpr double kColourSlope_per_nm = 0.016;

/// Absorption by dissolved colour that absorbs `at_440_per_m` at 440 nm:
/// a(440) exp(-slope (nm - 440)) [1/m].
double dissolved_colour_per_m(double at_440_per_m, double wavelength_nm,
                              double slope_per_nm = kColourSlope_per_nm);

/// Attenuation of a beam by grains of diameter `grain_m` > 0 per mass of them in the water:
/// 3 Q / (2 density grain), Q = 2, the limit for grains larger than the wavelength (van de Hulst
/// 1957), with aragonite's density 2700 kg/m3 (from memory). Good above about 2 um [m2/kg].
double beam_attenuation_m2_kg(double grain_m);

/// Loss by a mass of such grains in the water: the part of `beam_attenuation_m2_kg` that is
/// absorbed or thrown back. Backward goes 0.018 of what is scattered (Petzold 1972, from memory;
/// 0.012 m2/g of mineral particles in Neukermans et al. 2012, L&O 57:124, gives about the same);
/// 0.04 is absorbed (assumption, no source: carbonate dust is white) [1/m].
double particle_loss_per_m(double mass_kg_m3, double grain_m);

/// Loss per metre in each band: the keeper's flat value where one is set, else all of the above.
ByBand attenuation_by_band_per_m(const Water& water);

/// Dissolved colour on a day of the season: it rises by the weekly drift and falls back to its
/// first value at each reset (fresh carbon). Days before the season count as its first [1/m].
double yellowing_on_per_m(const Water& water, double day_d);

/// The water as it is on a day of the season, with that day's dissolved colour.
Water water_on(const Water& water, double day_d);

/// How much of a spectrum is left after a path through the water: T(l) = sum of share exp(-K l).
///
/// One look-up per path (a cubic in l, fitted piece by piece; error below 1e-8, and below 1e-7 in
/// water so murky that its worst band loses 40 1/m). With one flat attenuation it is exp(-K l)
/// itself.
class Attenuation {
  public:
    /// Clear: leaves everything.
    Attenuation() = default;
    /// One attenuation for every wavelength [1/m].
    explicit Attenuation(double flat_per_m);
    /// Of a spectrum in water that takes `per_m` (>= 0) of each band. Paths up to `longest_m` > 0
    /// are looked up, longer ones summed.
    Attenuation(const Spectrum& spectrum, const ByBand& per_m, double longest_m = 8.0);
    Attenuation(const Spectrum& spectrum, const Water& water)
        : Attenuation(spectrum, attenuation_by_band_per_m(water)) {}

    /// Share left after `path_m` >= 0 [1].
    double transmittance(double path_m) const {
        const double place = path_m * pieces_per_m_;
        const auto i = static_cast<std::size_t>(place);
        if (i >= pieces_.size()) return summed(path_m);
        const double f = place - static_cast<double>(i);
        const Piece& c = pieces_[i];
        return c[0] + f * (c[1] + f * (c[2] + f * c[3]));
    }

  private:
    using Piece = std::array<double, 4>;

    double summed(double path_m) const;
    void fit(double longest_m);

    double flat_per_m_ = 0.0;  ///< used when there are no pieces
    double pieces_per_m_ = 0.0;
    std::vector<Piece> pieces_;
    Spectrum spectrum_;
    ByBand per_m_{};
};

}  // namespace bedshade
