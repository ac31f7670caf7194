#include "sim/place/site_sand.h"

#include <algorithm>

#include "model/sediment/sediment_rejection.h"

namespace bedshade {
namespace {

SandStep steady_step(const BedForecast& bed, const SandReceptor& receptor, const Taxon& taxon) {
    const SteadySand steady = bed.sand().steady(receptor);
    SandStep step;
    step.deposition_kg_m2_d = steady.deposition_kg_m2_d();
    step.kept_share = taxon.sand_trap;
    const double speed_m_s = bed.speed_m_s(bed.days().front(), receptor.at_m);
    step.rejection_per_d = rejection_rate_per_d(taxon, speed_m_s);
    step.burial_d = taxon.burial_d;
    return step;
}

}  // namespace

SiteSand sand_on_site(const BedForecast& bed, const Site& site, const Candidate& candidate) {
    const SandReceptor receptor{Vec3(site.at_m.x(), site.at_m.y(), candidate.height_m),
                                0.5 * candidate.diameter_m};
    SandStep step = steady_step(bed, receptor, candidate.taxon);
    const auto deposits = bed.sand().deposits(receptor, bed.stirring());
    SiteSand sand;
    SandLoad load;
    double through = 0.0, fell = 0.0;
    auto next = deposits.begin();
    for (int day = 0; day < BedForecast::kSandDays_d; ++day) {
        step.from_d = day;
        step.to_d = day + 1;
        step.deposits.clear();
        for (; next != deposits.end() && next->time_d < step.to_d; ++next) {
            step.deposits.push_back(*next);
            fell += next->mass_kg_m2;
        }
        const SandOutcome outcome = follow_sand(load, step);
        load = outcome.end;
        through += outcome.mean_transmittance;
        sand.most_kg_m2 = std::max(sand.most_kg_m2, load.load_kg_m2);
    }
    sand.transmittance = through / BedForecast::kSandDays_d;
    sand.deposition_kg_m2_d = step.deposition_kg_m2_d + fell / BedForecast::kSandDays_d;
    return sand;
}

}  // namespace bedshade
