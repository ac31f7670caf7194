#include "sim/advice/ground.h"

#include <cmath>
#include <limits>

namespace bedshade {
namespace {

bool crosses(const Taxon& taxon, double grain_m) {
    if (taxon.spread_grain_high_m <= 0.0) return taxon.spreads_on != SpreadsOn::rock;
    return grain_m >= taxon.spread_grain_low_m && grain_m <= taxon.spread_grain_high_m;
}

}  // namespace

bool holds_here(const Taxon& taxon, double grain_m) {
    return crosses(taxon, grain_m) || (taxon.spreads_on != SpreadsOn::sand && grain_m >= kRubble_m);
}

bool spreads_here(const Taxon& taxon, double grain_m) {
    const bool sheet = taxon.form == Form::mat || taxon.form == Form::encrusting;
    return !sheet || crosses(taxon, grain_m);
}

RadialProfile ground_limits_m(const Layout& layout, const Vec2& site_m, const Taxon& taxon) {
    constexpr double kProbeStep_m = 0.005;
    const double farthest_m = 0.5 * taxon.max_diameter_m;
    RadialProfile limit_m;
    limit_m.fill(std::numeric_limits<double>::infinity());
    if (taxon.form != Form::mat && taxon.form != Form::encrusting) return limit_m;
    for (int s = 0; s < kSectors; ++s) {
        const Vec2 out(std::cos(sector_angle_rad(s)), std::sin(sector_angle_rad(s)));
        double reached_m = 0.0;
        while (
            reached_m < farthest_m &&
            crosses(taxon, layout.substrate.grain_at_m(site_m + (reached_m + kProbeStep_m) * out)))
            reached_m += kProbeStep_m;
        limit_m[static_cast<std::size_t>(s)] = reached_m;
    }
    return limit_m;
}

bool lives_at(const Inhabitant& inhabitant, const Vec2& site_m) {
    return inhabitant.does == Habit::dwell_at_bases && inhabitant.count > 0 &&
           (site_m - inhabitant.around_m).norm() <= inhabitant.radius_m;
}

void judge_ground(const Layout& layout, const Site& site, const Candidate& candidate,
                  SiteAssessment& assessment) {
    const Taxon& taxon = candidate.taxon;
    assessment.holds = holds_here(taxon, site.grain_m);
    if (taxon.preferred_grain_high_m > 0.0) {
        OverTime& grain = assessment.criterion(Criterion::grain);
        if (taxon.preferred_grain_low_m > 0.0)
            grain.note(std::log(site.grain_m / taxon.preferred_grain_low_m), 0.0);
        grain.note(std::log(taxon.preferred_grain_high_m / site.grain_m), 0.0);
    }
    if (!taxon.bothered_by_base_dwellers) return;
    for (std::size_t i = 0; i < layout.inhabitants.size(); ++i)
        if (lives_at(layout.inhabitants[i], site.at_m))
            assessment.irritated_by = static_cast<int>(i);
}

}  // namespace bedshade
