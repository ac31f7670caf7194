#include "sim/place/site_model.h"

#include <algorithm>
#include <cmath>

#include "model/base/days.h"
#include "model/contact/clearance.h"
#include "model/contact/contact.h"
#include "model/contact/reach.h"
#include "model/contact/separation.h"
#include "model/growth/compensation_light.h"
#include "model/growth/extension.h"
#include "model/growth/profiles.h"
#include "model/sediment/sediment_rejection.h"

#include "sim/advice/ground.h"
#include "sim/place/shade_cast.h"
#include "sim/place/site_sand.h"
#include "sim/verdict/margins.h"

namespace bedshade {
namespace {

constexpr double kSettling_d = 42.0;  // the default of a layout's colonies

/// A margin that can be told as a number: no lower than that of nothing at all.
double clamped_log_ratio(double there_is, double needed) {
    return std::max(log_ratio(there_is, needed), -kMostReported);
}

/// One coral at its site, day by day.
class SiteModel {
  public:
    SiteModel(const BedForecast& bed, const Site& site, const Candidate& candidate)
        : bed_(bed),
          site_(site),
          candidate_(candidate),
          taxon_(candidate.taxon),
          radius_m_(0.5 * candidate.diameter_m),
          limit_m_(ground_limits_m(bed.layout(), site.at_m, candidate.taxon)),
          height_m_(candidate.height_m),
          lit_(bed.layout().lamps.size()) {
        assessment_.at_m = site.at_m;
        assessment_.grain_m = site.grain_m;
        find_taken();
    }

    SiteAssessment run() {
        if (assessment_.taken != Taken::free) return assessment_;
        judge_ground(bed_.layout(), site_, candidate_, assessment_);
        find_sand();
        first_flow_m_s_ = note_flow(0.0);
        last_flow_m_s_ = speed_over_m_s(bed_.days().back());
        for (std::size_t day = 0; day < bed_.days().size(); ++day) {
            observe(day);
            if (day + 1 < bed_.days().size()) advance(day);
        }
        note_flow(bed_.days().back().day_d);
        assessment_.end_diameter_m = mean_diameter_m(outline_m());
        assessment_.end_height_m = height_m_;
        return assessment_;
    }

  private:
    RadialProfile outline_m() const;
    double radius_toward_m(const Vec2& there_m) const;
    double to_glass_m() const;
    Vec2 colony_at_m(std::size_t day, int colony) const {
        const auto& then = bed_.days()[day].colonies[static_cast<std::size_t>(colony)];
        return then->body.base_m().head<2>();
    }
    void find_taken();
    void find_sand();
    double note_flow(double day_d);
    void observe(std::size_t day);
    double speed_over_m_s(const BedDay& day) const {
        return bed_.speed_m_s(day, Vec3(site_.at_m.x(), site_.at_m.y(), height_m_));
    }
    AmbientConditions conditions_on(const BedDay& day) const;
    void assess_light(std::size_t day);
    void assess_neighbours(std::size_t day);
    void assess_bounds(std::size_t day);
    void advance(std::size_t day);
    void grow(double days);

    const BedForecast& bed_;
    const Site& site_;
    const Candidate& candidate_;
    const Taxon& taxon_;
    double radius_m_;        // of the outline where nothing stops it
    RadialProfile limit_m_;  // at which the ground stops it
    double height_m_;
    double saturation_ = 0.0, reserve_ = 1.0;
    double net_ = 0.0, peak_ = 0.0, need_scale_ = 1.0;
    double first_flow_m_s_ = 0.0, last_flow_m_s_ = 0.0;  // about its top as it is set in
    double sand_through_ = 1.0;  // share of light that passes the sand on it
    std::vector<double> lit_;    // plateau light by lamp
    SiteAssessment assessment_;
};

/// The outline today: a piece set in is as large as it is, whatever ground lies about it.
RadialProfile SiteModel::outline_m() const {
    RadialProfile outline_m = limit_m_;
    for (double& radius_m : outline_m)
        radius_m = std::min(radius_m_, std::max(radius_m, 0.5 * candidate_.diameter_m));
    return outline_m;
}

double SiteModel::radius_toward_m(const Vec2& there_m) const {
    const Vec2 way = there_m - site_.at_m;
    const int s =
        static_cast<int>(std::lround(std::atan2(way.y(), way.x()) * kSectors / (2.0 * kPi)));
    return outline_m()[static_cast<std::size_t>((s + kSectors) % kSectors)];
}

/// From its rim to the nearest pane.
double SiteModel::to_glass_m() const {
    const Tank& tank = bed_.layout().tank;
    const Vec2& at = site_.at_m;
    const RadialProfile outline = outline_m();
    constexpr std::size_t kQuarter = kSectors / 4;
    return std::min({tank.length_m - at.x() - outline[0], tank.width_m - at.y() - outline[kQuarter],
                     at.x() - outline[2 * kQuarter], at.y() - outline[3 * kQuarter]});
}

void SiteModel::find_taken() {
    if (site_.to_glass_m < radius_m_ + kGlassGap_m) assessment_.taken = Taken::by_glass;
    if (rock_over_m(bed_, site_, radius_m_) < height_m_) assessment_.taken = Taken::by_rock;
    for (const SiteNeighbour& neighbour : site_.neighbours) {
        const auto& then = neighbour.days.front();
        if (!then.lives || gap_m(then, radius_m_, 0.0, height_m_) > kTouch_m) continue;
        assessment_.taken = Taken::by_colony;
        assessment_.taken_by = neighbour.colony;
    }
}

void SiteModel::find_sand() {
    const SiteSand sand = sand_on_site(bed_, site_, candidate_);
    sand_through_ = sand.transmittance;
    assessment_.sand_kg_m2 = sand.most_kg_m2;
    assessment_.deposition_kg_m2_d = sand.deposition_kg_m2_d;
    assessment_.criterion(Criterion::sand)
        .note(clamped_log_ratio(kSmotheringLoad_kg_m2, sand.most_kg_m2), 0.0);
}

/// The speed about its top as it is that day.
double SiteModel::note_flow(double day_d) {
    const BedDay& day = day_d > 0.0 ? bed_.days().back() : bed_.days().front();
    const double speed = speed_over_m_s(day);
    const double slow = clamped_log_ratio(speed, taxon_.flow_low_m_s);
    const double fast = clamped_log_ratio(taxon_.flow_high_m_s, speed);
    OverTime& flow = assessment_.criterion(Criterion::flow);
    if (std::min(slow, fast) < flow.worst) assessment_.too_fast = fast < slow;
    flow.note(std::min(slow, fast), day_d);
    assessment_.flow_low_m_s = day_d > 0.0 ? std::min(assessment_.flow_low_m_s, speed) : speed;
    assessment_.flow_high_m_s = day_d > 0.0 ? std::max(assessment_.flow_high_m_s, speed) : speed;
    return speed;
}

void SiteModel::observe(std::size_t day) {
    assess_light(day);
    assess_neighbours(day);
    assess_bounds(day);
}

/// The water about it on a day; food is what all get. Lees widen evenly from first day to last.
AmbientConditions SiteModel::conditions_on(const BedDay& day) const {
    const double last_d = bed_.days().back().day_d;
    const double flow_m_s = last_d > 0.0
                                ? std::lerp(first_flow_m_s_, last_flow_m_s_, day.day_d / last_d)
                                : first_flow_m_s_;
    return ambient_conditions_of(taxon_, flow_m_s, day.food, day.temperature_C);
}

/// Light is that of the month before the day, as flags are judged on 30 days; on the first day that
/// of the day itself, which the coral is acclimated to and not yet judged by.
void SiteModel::assess_light(std::size_t day) {
    const LightDay& hours = bed_.light_day();
    bed_.light_at(day, site_.cell, candidate_.light_height * height_m_, lit_.data());
    for (double& light : lit_) light *= sand_through_;
    peak_ = peak_umol_m2_s(hours, lit_);
    if (day == 0) saturation_ = equilibrium_saturation_umol_m2_s(taxon_, peak_);
    const Tissue tissue = tissue_of(taxon_, saturation_, conditions_on(bed_.days()[day]));
    net_ = net_carbon(tissue, hours, lit_);
    const double dli = dli_mol_m2_d(hours, lit_);
    const double whole = 1.0;
    need_scale_ = need_scale(tissue, hours, {lit_, std::span(&whole, 1)},
                             need_scale_ > 0.0 && std::isfinite(need_scale_) ? need_scale_ : 1.0);
    const double need = dli > 0.0 ? need_scale_ * dli : taxon_.dli_min_mol_m2_d;
    if (day == 0 && bed_.days().size() > 1) return;
    double margin = clamped_log_ratio(dli, need);
    const bool harmed = margin > 0.0 && net_ < 0.0;
    if (harmed) margin = net_;
    OverTime& light = assessment_.criterion(Criterion::light);
    if (margin < light.worst) {
        assessment_.too_bright = harmed;
        assessment_.dli_mol_m2_d = dli;
        assessment_.need_dli_mol_m2_d = need;
    }
    light.note(margin, bed_.days()[day].day_d);
}

void SiteModel::assess_neighbours(std::size_t day) {
    const Layout& layout = bed_.layout();
    const auto [low_m, high_m] = rim_span(profile_of(taxon_.form, height_m_));
    for (const SiteNeighbour& neighbour : site_.neighbours) {
        const auto& then = neighbour.days[day];
        if (!then.lives) continue;
        const Taxon& other =
            layout.taxon_of(layout.colonies[static_cast<std::size_t>(neighbour.colony)]);
        const double day_d = bed_.days()[day].day_d;
        const double radius_m = radius_toward_m(colony_at_m(day, neighbour.colony));
        // It does not grow into obstacles.
        const bool stopped = then.low_m < high_m && then.high_m > low_m;
        note_shade(bed_, day, site_, neighbour.colony, candidate_,
                   stopped ? std::min(radius_m, then.away_m) : radius_m, height_m_, assessment_);
        if (other.id == taxon_.id) continue;
        const Reach own = reach_of(taxon_, other), its = reach_of(other, taxon_);
        const double gap = gap_m(then, radius_m, low_m, high_m);
        const double room = gap - std::max(own.most_m(), its.most_m());
        if (gap < std::max(taxon_.allelopathy_m, other.allelopathy_m))
            assessment_.allelopathy = neighbour.colony;
        if (room > kClearanceSearch_m) continue;
        OverTime& reach = assessment_.criterion(Criterion::reach);
        if (room < reach.worst) {
            assessment_.neighbour = neighbour.colony;
            assessment_.reached_by_it = its.most_m() > own.most_m();
            assessment_.from_below = then.away_m < radius_m && then.low_m >= high_m;
            const Reach& farther = assessment_.reached_by_it ? its : own;
            assessment_.reach_by = farther.touch_m >= farther.most_m()      ? ReachBy::touch
                                   : farther.sweepers_m >= farther.most_m() ? ReachBy::sweepers
                                                                            : ReachBy::tentacles;
        }
        reach.note(room, day_d);
    }
}

void SiteModel::assess_bounds(std::size_t day) {
    OverTime& room = assessment_.criterion(Criterion::room);
    const auto note = [&](double free_m, Bound what) {
        if (free_m > kClearanceSearch_m) return;
        if (free_m < room.worst) assessment_.meets = what;
        room.note(free_m, bed_.days()[day].day_d);
    };
    note(to_glass_m() - kGlassGap_m, Bound::glass);
    note(bed_.layout().tank.water_depth_m - kSurfaceGap_m - height_m_, Bound::surface);
    note(rock_over_m(bed_, site_, 0.9 * radius_m_) - height_m_ - taxon_.overhang_m, Bound::rock);
}

void SiteModel::advance(std::size_t day) {
    const double from_d = bed_.days()[day].day_d, to_d = bed_.days()[day + 1].day_d;
    const double growing_d = to_d - std::max(from_d, kSettling_d);
    const double temperature_factor = growth_temperature_factor(bed_.days()[day].temperature_C);
    if (growing_d > 0.0 && reserve_ > 0.0) grow(temperature_factor * growing_d);
    if (days_until_spent(taxon_, reserve_, net_) < to_d - from_d) assessment_.starves = true;
    reserve_ = reserve_after(taxon_, reserve_, net_, to_d - from_d);
    saturation_ = acclimated_saturation_umol_m2_s(
        taxon_, saturation_, equilibrium_saturation_umol_m2_s(taxon_, peak_), to_d - from_d);
}

/// Nothing grows beyond its kind's size.
void SiteModel::grow(double days) {
    const double gain_m = 1e-3 * taxon_.extension_mm_yr.mean / kDaysPerYear * days *
                          extension_share(net_, candidate_.full_growth_net);
    const double largest_m = 0.5 * taxon_.max_diameter_m;
    if (radius_m_ < largest_m)
        height_m_ =
            std::min(height_m_ + taxon_.vertical_per_radial * gain_m, taxon_.max_diameter_m);
    radius_m_ = std::max(radius_m_, std::min(radius_m_ + gain_m, largest_m));
}

}  // namespace

double search_radius_of(const BedForecast& bed, const std::vector<Candidate>& candidates) {
    double reach_m = 0.0, size_m = 0.0;
    for (const Candidate& candidate : candidates) {
        const double years = bed.layout().season.months / 12.0;
        size_m = std::max(size_m, 0.5 * candidate.diameter_m +
                                      1e-3 * candidate.taxon.extension_mm_yr.mean * years);
        for (const Colony& colony : bed.layout().colonies) {
            const Taxon& other = bed.layout().taxon_of(colony);
            reach_m = std::max({reach_m, reach_of(candidate.taxon, other).most_m(),
                                reach_of(other, candidate.taxon).most_m()});
        }
    }
    return size_m + reach_m + kClearanceSearch_m;
}

SiteAssessment assess_site(const BedForecast& bed, const Site& site, const Candidate& candidate) {
    return SiteModel(bed, site, candidate).run();
}

}  // namespace bedshade
