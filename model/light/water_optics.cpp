#include "model/light/water_optics.h"

#include <algorithm>
#include <cmath>

namespace bedshade {

namespace {

/// Pope & Fry 1997, Table 3, 400 to 700 nm by 5 nm [1/m].
constexpr ByBand kPureWater_per_m = {
    .00663, .00530, .00473, .00444, .00454, .00478, .00495, .00530, .00635, .00751,  // 400
    .00922, .00962, .00979, .01011, .01060, .01140, .01270, .01360, .01500, .01730,  // 450
    .02040, .02560, .03250, .03960, .04090, .04170, .04340, .04520, .04740, .05110,  // 500
    .05650, .05960, .06190, .06420, .06950, .07720, .08960, .11000, .13510, .16720,  // 550
    .22240, .25770, .26440, .26780, .27550, .28340, .29160, .30120, .31080, .32500,  // 600
    .34000, .37100, .41000, .42900, .43900, .44800, .46500, .48600, .51600, .55900,  // 650
    .62400};

struct Row {
    double nm, value;
};

/// Change per degree above 22 degC (IOCCG 2018) [1e-4 1/m/K].
constexpr Row kPerDegree[] = {{400, 0.1}, {425, -0.1}, {450, 0.2},  {475, -0.1}, {500, 0.1},
                              {525, 0.7}, {550, 0},    {575, -0.6}, {600, 7.9},  {605, 10.3},
                              {625, 3},   {650, -3},   {660, 0.8},  {675, -2.1}, {700, -2}};
/// Change per g/kg of salinity (IOCCG 2018) [1e-4 1/m].
constexpr Row kPerSalt[] = {{400, 0.43}, {425, 0.28}, {450, 0.17}, {475, 0.09},  {500, 0.05},
                            {525, 0.14}, {550, 0.13}, {575, 0.10}, {600, -0.16}, {605, 0.43},
                            {625, 0.80}, {650, 0.60}, {660, 0.41}, {675, 0.46},  {700, -1.16}};
/// Smith & Baker 1981 [1/m].
constexpr Row kSeaScattering_per_m[] = {{400, .00755}, {425, .00582}, {450, .00456}, {475, .00361},
                                        {500, .00290}, {525, .00236}, {550, .00193}, {600, .00133},
                                        {650, .00095}, {700, .00069}};

template <std::size_t N>
double interpolate(const Row (&rows)[N], double nm) {
    if (nm <= rows[0].nm) return rows[0].value;
    for (std::size_t i = 1; i < N; ++i) {
        if (nm > rows[i].nm) continue;
        const double part = (nm - rows[i - 1].nm) / (rows[i].nm - rows[i - 1].nm);
        return rows[i - 1].value + part * (rows[i].value - rows[i - 1].value);
    }
    return rows[N - 1].value;
}

constexpr double kBackwardShare = 0.018;
constexpr double kAbsorbedShare = 0.04;
constexpr double kCarbonateDensity_kg_m3 = 2700.0;

/// Largest error of the fitted cubics, and their largest number: beyond it the water is so turbid
/// that hardly any light remains after a few centimetres.
constexpr double kFitError = 1e-8;
constexpr double kMaxPieces = 4096.0;

/// Longest piece on which a cubic Hermite interpolant has an error of at most `kFitError`: its
/// error is h^4 / 384 times the fourth derivative, which is largest at l = 0, sum of share K^4.
double longest_piece_m(const Spectrum& spectrum, const ByBand& per_m) {
    double fourth = 0.0;
    for (std::size_t b = 0; b < per_m.size(); ++b)
        fourth += spectrum.share[b] * std::pow(per_m[b], 4.0);
    return std::pow(384.0 * kFitError / fourth, 0.25);
}

}  // namespace

double pure_water_absorption_per_m(double wavelength_nm) {
    const double place =
        std::clamp((wavelength_nm - kFirstBandNm) / kBandStepNm, 0.0, kBands - 1.0);
    const auto i = static_cast<std::size_t>(std::min(place, kBands - 2.0));
    const double part = place - static_cast<double>(i);
    return (1.0 - part) * kPureWater_per_m[i] + part * kPureWater_per_m[i + 1];
}

double absorption_shift_per_m(double wavelength_nm, double temperature_C, double salinity_g_kg) {
    return 1e-4 * ((temperature_C - 22.0) * interpolate(kPerDegree, wavelength_nm) +
                   salinity_g_kg * interpolate(kPerSalt, wavelength_nm));
}

double sea_scattering_per_m(double wavelength_nm) {
    return interpolate(kSeaScattering_per_m, wavelength_nm);
}

double dissolved_colour_per_m(double at_440_per_m, double wavelength_nm, double slope_per_nm) {
    return at_440_per_m * std::exp(-slope_per_nm * (wavelength_nm - 440.0));
}

double beam_attenuation_m2_kg(double grain_m) {
    constexpr double kEfficiency = 2.0;
    return 1.5 * kEfficiency / (kCarbonateDensity_kg_m3 * grain_m);
}

double particle_loss_per_m(double mass_kg_m3, double grain_m) {
    if (!(mass_kg_m3 > 0.0)) return 0.0;
    const double beam_per_m = mass_kg_m3 * beam_attenuation_m2_kg(grain_m);
    return beam_per_m * (kAbsorbedShare + (1.0 - kAbsorbedShare) * kBackwardShare);
}

ByBand attenuation_by_band_per_m(const Water& water) {
    ByBand per_m{};
    if (water.attenuation_per_m) {
        per_m.fill(*water.attenuation_per_m);
        return per_m;
    }
    const double particles = particle_loss_per_m(water.turbidity_kg_m3, water.turbidity_grain_m);
    for (int b = 0; b < kBands; ++b) {
        const double nm = band_nm(b);
        const double absorbed =
            pure_water_absorption_per_m(nm) +
            absorption_shift_per_m(nm, water.temperature_C, water.salinity_g_kg) +
            dissolved_colour_per_m(water.yellowing_per_m, nm);
        per_m[static_cast<std::size_t>(b)] = absorbed + 0.5 * sea_scattering_per_m(nm) + particles;
    }
    return per_m;
}

double yellowing_on_per_m(const Water& water, double day_d) {
    double weeks = std::max(0.0, day_d - water.drift_from_d) / 7.0;
    if (water.drift_reset_weeks > 0.0) weeks = std::fmod(weeks, water.drift_reset_weeks);
    return std::max(0.0, water.yellowing_per_m + water.yellowing_drift_per_m_week * weeks);
}

Water water_on(const Water& water, double day_d) {
    Water today = water;
    today.yellowing_per_m = yellowing_on_per_m(water, day_d);
    return today;
}

Attenuation::Attenuation(double flat_per_m) : flat_per_m_(flat_per_m) {}

Attenuation::Attenuation(const Spectrum& spectrum, const ByBand& per_m, double longest_m)
    : flat_per_m_(per_m.front()), spectrum_(spectrum), per_m_(per_m) {
    const auto differs = [&](double k) { return k != per_m.front(); };
    if (std::any_of(per_m.begin(), per_m.end(), differs)) fit(longest_m);
}

void Attenuation::fit(double longest_m) {
    const double pieces =
        std::clamp(std::ceil(longest_m / longest_piece_m(spectrum_, per_m_)), 1.0, kMaxPieces);
    const double step_m = longest_m / pieces;
    pieces_per_m_ = pieces / longest_m;
    ByBand left = spectrum_.share;
    ByBand step{};
    for (std::size_t b = 0; b < step.size(); ++b) step[b] = std::exp(-per_m_[b] * step_m);
    // Value and slope (per piece) at the near end of each piece, advanced to its far end.
    const auto value_and_slope = [&] {
        std::array<double, 2> sums{};
        for (std::size_t b = 0; b < left.size(); ++b) {
            sums[0] += left[b];
            sums[1] -= left[b] * per_m_[b] * step_m;
        }
        return sums;
    };
    pieces_.resize(static_cast<std::size_t>(pieces));
    auto near = value_and_slope();
    for (Piece& piece : pieces_) {
        for (std::size_t b = 0; b < left.size(); ++b) left[b] *= step[b];
        const auto far = value_and_slope();
        const double rise = far[0] - near[0];
        piece = {near[0], near[1], 3.0 * rise - 2.0 * near[1] - far[1],
                 near[1] + far[1] - 2.0 * rise};
        near = far;
    }
}

double Attenuation::summed(double path_m) const {
    if (pieces_.empty()) return std::exp(-flat_per_m_ * path_m);
    double sum = 0.0;
    for (std::size_t b = 0; b < per_m_.size(); ++b)
        sum += spectrum_.share[b] * std::exp(-per_m_[b] * path_m);
    return sum;
}

}  // namespace bedshade
