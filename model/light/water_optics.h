// Attenuation of light by the water: by wavelength, and for a lamp's whole spectrum over a path
// (Beer-Lambert's law).
//
// The contributions of water itself, coloured dissolved organic matter and suspended particles add
// up. Light scattered forward still arrives, so the loss is absorption plus backscattering (a +
// b_b, the lower bound of beam attenuation).
#pragma once

#include <vector>

#include "model/light/spectrum.h"
#include "model/reef/water.h"

namespace bedshade {

/// Absorption by pure water at 22 degC (Pope & Fry 1997, Appl. Opt. 36:8710), linear between their
/// 5 nm steps; 400-700 nm, constant outside [1/m].
double pure_water_absorption_per_m(double wavelength_nm);

/// Change of absorption with temperature and salinity (IOCCG 2018 protocol for absorption, its
/// table of linear coefficients); never more than 0.005 1/m in a tank, may be negative [1/m].
double absorption_shift_per_m(double wavelength_nm, double temperature_C, double salinity_g_kg);

/// Molecular scattering by seawater, half of it backward (Smith & Baker 1981, Appl. Opt. 20:177)
/// [1/m].
double sea_scattering_per_m(double wavelength_nm);

/// Spectral slope of absorption by coloured dissolved organic matter. Measured means are 0.014
/// (Bricaud, Morel & Prieur 1981, L&O 26:43, from memory) and 0.0165 +- 0.0035 (Schwarz et al.
/// 2002, Oceanologia 44:209) [1/nm].
inline constexpr double kColourSlope_per_nm = 0.016;

/// Absorption by coloured dissolved organic matter (yellowing) that absorbs `at_440_per_m` at 440
/// nm: a(440) exp(-slope (nm - 440)) [1/m].
double dissolved_colour_per_m(double at_440_per_m, double wavelength_nm,
                              double slope_per_nm = kColourSlope_per_nm);

/// Beam attenuation by suspended grains of diameter `grain_m` > 0 per mass concentration: 3 Q / (2
/// density grain), Q = 2, the limit for grains larger than the wavelength (van de Hulst 1957), with
/// aragonite's density 2700 kg/m3 (from memory). Good above about 2 um [m2/kg].
double beam_attenuation_m2_kg(double grain_m);

/// Loss by a mass concentration of such grains: the part of `beam_attenuation_m2_kg` that is
/// absorbed or backscattered. The backscattered fraction of scattering is 0.018 (Petzold 1972, from
/// memory; 0.012 m2/g of mineral particles in Neukermans et al. 2012, L&O 57:124, gives about the
/// same); 0.04 is absorbed (assumption, no source: carbonate dust is white) [1/m].
double particle_loss_per_m(double mass_kg_m3, double grain_m);

/// Loss per metre in each band: the flat measured value where one is set, else the sum of all of
/// the above.
ByBand attenuation_by_band_per_m(const Water& water);

/// Yellowing on a day of the run: it rises by the weekly drift and returns to its first value at
/// each reset (fresh activated carbon). Days before the start count as day 0 [1/m].
double yellowing_on_per_m(const Water& water, double day_d);

/// The water on a day of the run, with that day's yellowing.
Water water_on(const Water& water, double day_d);

/// Transmittance table of a spectrum in water: T(l) = sum over bands of share exp(-K l).
///
/// One look-up per path (piecewise cubic in l; error below 1e-8, and below 1e-7 in water so turbid
/// that its worst band loses 40 1/m). With one flat attenuation it is exp(-K l) itself.
class Attenuation {
  public:
    /// No attenuation.
    Attenuation() = default;
    /// One attenuation for every wavelength [1/m].
    explicit Attenuation(double flat_per_m);
    /// A spectrum in water with attenuation `per_m` (>= 0) in each band. Paths up to `longest_m` >
    /// 0 are looked up, longer ones summed.
    Attenuation(const Spectrum& spectrum, const ByBand& per_m, double longest_m = 8.0);
    Attenuation(const Spectrum& spectrum, const Water& water)
        : Attenuation(spectrum, attenuation_by_band_per_m(water)) {}

    /// Transmittance after `path_m` >= 0 [1].
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
