#include "model/light/spectrum.h"

#include <algorithm>
#include <cmath>

namespace bedshade {

namespace {

/// Step of the fine grid from which photons are binned [nm].
constexpr double kFineStepNm = 0.5;
constexpr int kFineSteps = 600;

/// Upper limit of the blue part of a phosphor white [nm].
constexpr double kBlueEndNm = 500.0;

Spectrum normalised(Spectrum spectrum) {
    double sum = 0.0;
    for (const double share : spectrum.share) sum += share;
    if (!(sum > 0.0) || !std::isfinite(sum)) return flat_spectrum();
    for (double& share : spectrum.share) share /= sum;
    return spectrum;
}

/// Bins a photon density given at any wavelength.
template <class Density>
Spectrum binned(Density&& photons_at) {
    Spectrum spectrum;
    for (int i = 0; i <= kFineSteps; ++i) {
        const double place = i * kFineStepNm / kBandStepNm;
        const int band = std::min(static_cast<int>(place), kBands - 2);
        const double above = place - band;
        const double end = i == 0 || i == kFineSteps ? 0.5 : 1.0;
        const double photons = end * photons_at(kFirstBandNm + i * kFineStepNm);
        const auto b = static_cast<std::size_t>(band);
        spectrum.share[b] += (1.0 - above) * photons;
        spectrum.share[b + 1] += above * photons;
    }
    return normalised(spectrum);
}

double bell(double wavelength_nm, double peak_nm, double full_width_nm) {
    const double x = (wavelength_nm - peak_nm) / full_width_nm;
    return std::exp(-4.0 * std::log(2.0) * x * x);
}

/// Fraction of photons below `kBlueEndNm`; the band at the limit counts half.
double blue_share(const Spectrum& spectrum) {
    double sum = 0.0;
    for (int b = 0; b < kBands; ++b) {
        const double weight = band_nm(b) < kBlueEndNm ? 1.0 : band_nm(b) == kBlueEndNm ? 0.5 : 0.0;
        sum += weight * spectrum.share[static_cast<std::size_t>(b)];
    }
    return sum;
}

/// Photons of a black body (Planck): nm^-4 / (exp(c2 / nm T) - 1).
Spectrum black_body(double temperature_K) {
    constexpr double kSecondRadiation_nm_K = 1.438776877e7;
    return binned([=](double nm) {
        return std::pow(nm, -4.0) / std::expm1(kSecondRadiation_nm_K / (nm * temperature_K));
    });
}

/// `share` of the first, the rest of the second.
Spectrum mixed(double share, const Spectrum& first, const Spectrum& second) {
    Spectrum mix;
    for (std::size_t b = 0; b < mix.share.size(); ++b)
        mix.share[b] = share * first.share[b] + (1.0 - share) * second.share[b];
    return mix;
}

double value_at(const SpectrumTable& table, double nm) {
    const auto& x = table.wavelength_nm;
    if (x.empty() || nm < x.front() || nm > x.back()) return 0.0;
    const auto above = std::lower_bound(x.begin(), x.end(), nm);
    const auto i = static_cast<std::size_t>(above - x.begin());
    if (i == 0) return table.photons.front();
    const double part = (nm - x[i - 1]) / (x[i] - x[i - 1]);
    return table.photons[i - 1] + part * (table.photons[i] - table.photons[i - 1]);
}

Spectrum part_spectrum(const SpectrumPart& part) {
    if (part.colour_temperature_K > 0.0) return white_spectrum(part.colour_temperature_K);
    return narrow_spectrum(part.peak_nm, usual_width_nm(part.peak_nm));
}

}  // namespace

Spectrum flat_spectrum() {
    Spectrum spectrum;
    spectrum.share.fill(1.0 / (kBands - 1));
    spectrum.share.front() = spectrum.share.back() = 0.5 / (kBands - 1);
    return spectrum;
}

double ohno_shape(double wavelength_nm, double peak_nm, double half_width_nm) {
    const double x = (wavelength_nm - peak_nm) / half_width_nm;
    const double g = std::exp(-x * x);
    const double g2 = g * g;
    return (g + 2.0 * g2 * g2 * g) / 3.0;
}

double usual_width_nm(double peak_nm) {
    struct Row {
        double peak_nm, width_nm;
    };
    constexpr Row kRows[] = {{420, 15}, {450, 20}, {470, 25}, {490, 30}, {520, 35}, {660, 20}};
    if (peak_nm <= kRows[0].peak_nm) return kRows[0].width_nm;
    for (std::size_t i = 1; i < std::size(kRows); ++i) {
        if (peak_nm > kRows[i].peak_nm) continue;
        const double part =
            (peak_nm - kRows[i - 1].peak_nm) / (kRows[i].peak_nm - kRows[i - 1].peak_nm);
        return kRows[i - 1].width_nm + part * (kRows[i].width_nm - kRows[i - 1].width_nm);
    }
    return std::end(kRows)[-1].width_nm;
}

Spectrum narrow_spectrum(double peak_nm, double width_nm) {
    const double peak = std::clamp(peak_nm, 350.0, 750.0);
    const double half_width = width_nm / kOhnoFullWidth;
    // The published shape is of power; photons per joule are proportional to the wavelength.
    return binned([=](double nm) { return nm * ohno_shape(nm, peak, half_width); });
}

Spectrum white_spectrum(double temperature_K) {
    const Spectrum pump = binned([](double nm) { return nm * bell(nm, 450.0, 22.0); });
    const Spectrum phosphor = binned([](double nm) { return nm * bell(nm, 560.0, 120.0); });
    const double least = blue_share(phosphor);
    const double wanted = blue_share(black_body(temperature_K));
    const double pumped = (wanted - least) / (blue_share(pump) - least);
    return mixed(std::clamp(pumped, 0.0, 1.0), pump, phosphor);
}

Spectrum tabulated_spectrum(const SpectrumTable& table) {
    return binned([&](double nm) { return value_at(table, nm); });
}

Spectrum spectrum_of(const Lamp& lamp) {
    if (lamp.spectrum_table) return tabulated_spectrum(*lamp.spectrum_table);
    Spectrum sum;
    for (const SpectrumPart& part : lamp.spectrum) {
        const Spectrum one = part_spectrum(part);
        for (std::size_t b = 0; b < sum.share.size(); ++b)
            sum.share[b] += part.share * one.share[b];
    }
    return normalised(sum);
}

double photons_umol_per_J(const Spectrum& spectrum) {
    double joules_per_umol = 0.0;
    for (int b = 0; b < kBands; ++b)
        joules_per_umol +=
            spectrum.share[static_cast<std::size_t>(b)] / photons_umol_per_J(band_nm(b));
    return 1.0 / joules_per_umol;
}

double mean_over(const Spectrum& spectrum, const ByBand& value) {
    double sum = 0.0;
    for (std::size_t b = 0; b < value.size(); ++b) sum += spectrum.share[b] * value[b];
    return sum;
}

}  // namespace bedshade
