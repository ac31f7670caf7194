#include <fmt/format.h>

#include "sim/advice/ground.h"
#include "sim/base/text.h"
#include "sim/place/placing_words.h"

namespace bedshade {
namespace {

/// From this share of its food on a coral is called flow-fed here (a judgement, no source).
constexpr double kFlowFed = 0.45;

void note_base(const Taxon& taxon, std::vector<std::string>& notes) {
    if (taxon.form == Form::free_living_disc) {
        notes.emplace_back("free-living: keep it on sand and off rock");
        notes.emplace_back("set the skeleton on the sand, not in it");
    } else if (taxon.form == Form::solitary && taxon.spreads_on == SpreadsOn::sand) {
        notes.emplace_back("cone-shaped base: a ring of rubble or pipe holds it upright");
        notes.emplace_back("set the skeleton on the sand, not in it");
    } else if (taxon.form == Form::solitary) {
        notes.emplace_back("domed underside: steady on sand, unsteady on rock");
        notes.emplace_back("set the skeleton on the sand, not in it");
    } else if (taxon.form == Form::bowl) {
        notes.emplace_back("bowl-shaped: sand that falls in it stays; lean it so that it drains");
    }
}

void note_spread(const Taxon& taxon, const SiteAssessment& assessment,
                 std::vector<std::string>& notes) {
    if (taxon.form != Form::mat && taxon.form != Form::encrusting) return;
    if (spreads_here(taxon, assessment.grain_m))
        notes.push_back(fmt::format("spreads over this ground: {:.0f} cm across at the end",
                                    100.0 * assessment.end_diameter_m));
    else
        notes.push_back(fmt::format("stays put: it does not cross grain of {:.2g} mm",
                                    1e3 * assessment.grain_m));
}

void note_flow(const Taxon& taxon, const SiteAssessment& assessment,
               std::vector<std::string>& notes) {
    if (taxon.food_share < kFlowFed) return;
    notes.push_back(fmt::format(
        "feeds from the water ({:.0f} % of its needs): keep it where flow passes; here {:.1f} cm/s",
        100.0 * taxon.food_share, 100.0 * assessment.flow_low_m_s));
}

void note_walk(const BedForecast& bed, const Taxon& taxon, std::vector<std::string>& notes) {
    if (taxon.mobility_m_d <= 0.0) return;
    if (taxon.mobility_m_d * kDaysPerMonth > bed.layout().tank.length_m) {
        notes.push_back(
            fmt::format("walks up to {:.2g} cm a day: it may turn up anywhere on the bed",
                        100.0 * taxon.mobility_m_d));
        return;
    }
    notes.push_back(fmt::format(
        "walks up to {:.2g} cm a day, about {:.0f} cm a month: fence it or leave it room",
        100.0 * taxon.mobility_m_d, 100.0 * taxon.mobility_m_d * kDaysPerMonth));
}

}  // namespace

std::vector<std::string> notes_on(const BedForecast& bed, const Candidate& candidate,
                                  const SiteAssessment& assessment) {
    std::vector<std::string> notes;
    if (assessment.taken != Taken::free) return notes;
    const Taxon& taxon = candidate.taxon;
    note_base(taxon, notes);
    note_walk(bed, taxon, notes);
    note_spread(taxon, assessment, notes);
    note_flow(taxon, assessment, notes);
    if (assessment.allelopathy >= 0)
        notes.push_back(fmt::format(
            "chemicals pass between it and '{}': fresh activated carbon removes them",
            escape_control(
                bed.layout().colonies[static_cast<std::size_t>(assessment.allelopathy)].name)));
    if (!taxon.photosynthetic()) notes.emplace_back("lives on food alone: feed it every few days");
    return notes;
}

}  // namespace bedshade
