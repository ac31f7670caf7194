#include "sim/run/colony_carbon.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "model/growth/compensation_light.h"
#include "model/growth/forms.h"

namespace bedshade {
namespace {

/// Light on a colony's patches, dimmed, beside the patches' areas.
struct Patches {
    std::vector<double> light, baseline, area;
    std::size_t lamps = 0;

    PatchLight now() const { return {light, area}; }
    PatchLight others_at_baseline() const { return {baseline, area}; }
    std::span<const double> of(std::size_t patch) const {
        return std::span(light).subspan(patch * lamps, lamps);
    }
};

Patches dimmed(const std::vector<LightReceptor>& receptors, const ColonyLight& light,
               std::size_t lamps, double transmittance) {
    Patches patches;
    patches.lamps = lamps;
    const auto dim = [transmittance](double value) { return value * transmittance; };
    std::transform(light.patch_umol_m2_s.begin(), light.patch_umol_m2_s.end(),
                   std::back_inserter(patches.light), dim);
    std::transform(light.patch_baseline_umol_m2_s.begin(), light.patch_baseline_umol_m2_s.end(),
                   std::back_inserter(patches.baseline), dim);
    for (const LightReceptor& patch : receptors) patches.area.push_back(patch.area_m2);
    return patches;
}

/// Area mean of each lamp's plateau light.
std::vector<double> mean_by_lamp(const Patches& patches) {
    std::vector<double> mean(patches.lamps, 0.0);
    const double area = std::accumulate(patches.area.begin(), patches.area.end(), 0.0);
    for (std::size_t p = 0; p < patches.area.size(); ++p)
        for (std::size_t l = 0; l < patches.lamps; ++l)
            mean[l] += patches.light[p * patches.lamps + l] * patches.area[p] / area;
    return mean;
}

RadialProfile net_by_sector(const Tissue& tissue, const LightDay& day, const Patches& patches) {
    RadialProfile net{}, area{};
    for (std::size_t p = 0; p < patches.area.size(); ++p) {
        const std::size_t s = p % kSectors;  // patches come ring by ring, sector by sector
        net[s] += patches.area[p] * net_carbon(tissue, day, patches.of(p));
        area[s] += patches.area[p];
    }
    for (std::size_t s = 0; s < net.size(); ++s) net[s] /= area[s];
    return net;
}

/// The need of a colony that no light falls on, as if it were lit evenly.
double need_in_even_light_dli(const Tissue& tissue, const LightDay& day, const Patches& patches) {
    const std::vector<double> even(patches.light.size(), 1.0 / static_cast<double>(day.lamps));
    const PatchLight light{even, patches.area};
    return need_scale(tissue, day, light) * mean_dli_mol_m2_d(day, light);
}

void find_need(const Tissue& tissue, const LightDay& day, const Patches& patches, double guess,
               ColonyCarbon& carbon) {
    carbon.need_scale = need_scale(tissue, day, patches.now(), guess > 0.0 ? guess : 1.0);
    if (carbon.dli_mol_m2_d > 0.0) {
        carbon.need_dli_mol_m2_d = carbon.need_scale * carbon.dli_mol_m2_d;
        carbon.need_ppfd_umol_m2_s = carbon.need_scale * carbon.ppfd_mean_umol_m2_s;
    } else if (day.lamps > 0 && tissue.photosynthetic()) {
        carbon.need_dli_mol_m2_d = need_in_even_light_dli(tissue, day, patches);
    }
}

}  // namespace

ColonyCarbon carbon_of(const Taxon& taxon, const ColonyState& state,
                       const AmbientConditions& ambient, const LightDay& day,
                       const std::vector<LightReceptor>& receptors, const ColonyLight& light,
                       double sand_transmittance, double scale_guess) {
    const Tissue tissue = tissue_of(taxon, state.saturation_umol_m2_s, ambient);
    const Patches patches = dimmed(receptors, light, day.lamps, sand_transmittance);
    const auto by_lamp = mean_by_lamp(patches);
    ColonyCarbon carbon;
    carbon.ppfd_mean_umol_m2_s = std::accumulate(by_lamp.begin(), by_lamp.end(), 0.0);
    carbon.peak_umol_m2_s = peak_umol_m2_s(day, by_lamp);
    carbon.dli_mol_m2_d = dli_mol_m2_d(day, by_lamp);
    carbon.net_carbon = mean_net_carbon(tissue, day, patches.now());
    carbon.net_others_at_baseline = mean_net_carbon(tissue, day, patches.others_at_baseline());
    carbon.net_uninhibited = mean_net_carbon(without_inhibition(tissue), day, patches.now());
    carbon.net_by_sector = net_by_sector(tissue, day, patches);
    find_need(tissue, day, patches, scale_guess, carbon);
    return carbon;
}

}  // namespace bedshade
