#include "sim/run/member_sample.h"

#include <algorithm>
#include <cmath>

#include "model/base/random.h"

#include "sim/run/prior.h"

namespace bedshade {
namespace {

constexpr double kMostScore = 3.0;

// Factors between the median and the 95 % end.
// Single colonies of three wild genera lie within a factor of 2 of one another (lagoon light
// curves, `light` of the trait table); a kind that was itself measured is taken as known to 1.5 (a
// judgement, no source).
constexpr double kLightMeasured = 1.5, kLightGuessed = 2.0;
// Fasting times of one group span 3-5, 4-6 or 6-12 weeks: about 1.4 either way (derived).
constexpr double kReserve = 1.4;
// The map from sand classes to rates and burial days is ours; a factor of 2 (a judgement, no
// source).
constexpr double kClearing = 2.0, kBurial = 2.0;
// Output where a hobby meter set it (common practice, no source).
constexpr double kOutputMeasured = 1.1;
constexpr double kActivity = 2.0;  // how often an animal digs (judgement)

/// FNV-1a (Fowler, Noll & Vo 1991): a name's stream does not hang on its place in a list.
std::uint32_t stream_of(const std::string& name) {
    std::uint32_t hash = 2166136261U;
    for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    return hash;
}

/// Draws and notes scores, one for each quantity.
class Scores {
  public:
    Scores(std::uint64_t seed, std::uint32_t member, std::vector<SampledValue>& drawn)
        : seed_(seed), member_(member), drawn_(drawn) {}

    double of(Process process, const std::string& name) { return note(name, free(process, name)); }

    /// A quantity whose score goes with that of the one drawn first, by a correlation.
    double with_first(Process process, const std::string& name, double correlation) {
        const double own = std::sqrt(1.0 - correlation * correlation) * free(process, name);
        return note(name, correlation * drawn_.front().score + own);
    }

    double factor(Process process, const std::string& name, double at_95) {
        return std::pow(at_95, of(process, name) / kScoreAt95);
    }

  private:
    /// Before it is held within its ends; 0 for the best estimate.
    double free(Process process, const std::string& name) const {
        if (member_ == 0) return 0.0;
        return RandomStream(seed_, member_, process, 0, stream_of(name)).normal();
    }

    double note(const std::string& name, double score) {
        drawn_.push_back({name, std::clamp(score, -kMostScore, kMostScore)});
        return drawn_.back().score;
    }

    std::uint64_t seed_;
    std::uint32_t member_;
    std::vector<SampledValue>& drawn_;
};

double light_factor_at_95(const Taxon& taxon) {
    const bool measured = taxon.light.confidence == Confidence::read;
    return measured ? kLightMeasured : kLightGuessed;
}

/// Compensation, saturation and inhibition move together: a coral is used to more light or to less.
void vary_light(Taxon& taxon, Scores& scores) {
    const double factor =
        scores.factor(Process::traits, "light need of " + taxon.id, light_factor_at_95(taxon));
    for (double* level : {&taxon.compensation_umol_m2_s, &taxon.saturation_umol_m2_s,
                          &taxon.saturation_high_umol_m2_s, &taxon.inhibition_umol_m2_s})
        *level *= factor;
}

void vary_taxon(Taxon& taxon, Scores& scores) {
    Spread& growth = taxon.extension_mm_yr;
    growth.mean = spread_at(growth, scores.of(Process::traits, "growth of " + taxon.id));
    if (taxon.photosynthetic()) vary_light(taxon, scores);
    taxon.reserve_d *= scores.factor(Process::traits, "reserve of " + taxon.id, kReserve);
    taxon.clearing_still_per_d *=
        scores.factor(Process::traits, "sand clearing of " + taxon.id, kClearing);
    taxon.burial_d *= scores.factor(Process::traits, "burial tolerance of " + taxon.id, kBurial);
}

/// Must be drawn right after the lamps' output, which readings tie it to.
void vary_water(Layout& layout, Scores& scores) {
    const Measured& measured = layout.measured;
    Water& water = layout.water;
    // A flat measured attenuation stands for the optics: their colour is not used, and how well
    // it is known only readings say.
    if (water.attenuation_per_m && !measured.water_known_to) return;
    const double score =
        scores.with_first(Process::water, "water colour and turbidity", measured.water_with_output);
    const double factor =
        std::pow(measured.water_known_to.value_or(kWaterAssumed), score / kScoreAt95);
    water.yellowing_per_m *= factor;
    water.turbidity_kg_m3 *= factor;
    if (water.attenuation_per_m) *water.attenuation_per_m *= factor;
    for (Action& action : layout.actions)
        if (auto* change = std::get_if<WaterChange>(&action.to))
            for (auto* level :
                 {&change->yellowing_per_m, &change->turbidity_kg_m3, &change->attenuation_per_m})
                if (*level) **level *= factor;
}

/// A colony that was measured as it grew varies within that, not with all of its kind.
void vary_measured_growth(const Layout& baseline, Layout& layout, Scores& scores) {
    for (Colony& colony : layout.colonies) {
        if (!colony.growth_known_to) continue;
        const double of_kind = layout.taxon_of(colony).extension_mm_yr.mean /
                               baseline.taxon_of(colony).extension_mm_yr.mean;
        const double own = scores.factor(Process::traits, "growth of '" + colony.name + "'",
                                         *colony.growth_known_to);
        if (of_kind > 0.0) colony.growth_factor *= own / of_kind;
    }
}

double output_at_95(const Layout& layout) {
    if (layout.measured.output_known_to) return *layout.measured.output_known_to;
    const bool has_readings = layout.season.use_readings && !layout.readings.empty();
    return has_readings ? kOutputMeasured : kOutputAssumed;
}

}  // namespace

double spread_at(const Spread& spread, double score) {
    const double end = score < 0.0 ? spread.low : spread.high;
    if (spread.mean <= 0.0 || end <= 0.0 || score == 0.0) return spread.mean;
    return spread.mean * std::pow(end / spread.mean, std::abs(score) / kScoreAt95);
}

MemberSample sample_member(const Layout& layout, std::uint64_t seed, std::uint32_t member) {
    MemberSample draw{layout, 1.0, {}};
    Scores scores(seed, member, draw.drawn);
    draw.output_factor = scores.factor(Process::water, "lamp output", output_at_95(layout));
    vary_water(draw.layout, scores);
    for (Taxon& taxon : draw.layout.taxa) vary_taxon(taxon, scores);
    vary_measured_growth(layout, draw.layout, scores);
    for (Inhabitant& animal : draw.layout.inhabitants)
        animal.events_per_day *=
            scores.factor(Process::traits, "digging of '" + animal.name + "'", kActivity);
    return draw;
}

MemberSample sample_member(const Layout& layout, RunOptions& options) {
    MemberSample draw =
        sample_member(layout, options.seed, static_cast<std::uint32_t>(options.member));
    options.output_scale *= draw.output_factor;
    return draw;
}

}  // namespace bedshade
