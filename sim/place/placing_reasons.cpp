#include <fmt/format.h>

#include "model/growth/profiles.h"

#include "sim/advice/ground.h"
#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/place/light_culprit.h"
#include "sim/place/placing_words.h"
#include "sim/report/report.h"

namespace bedshade {
namespace {

const Taxon& taxon_of(const BedForecast& bed, int colony) {
    const Layout& layout = bed.layout();
    return layout.taxon_of(layout.colonies[static_cast<std::size_t>(colony)]);
}

std::string from_when(const BedForecast& bed, double day_d) {
    const bool at_once = bed.days().size() < 2 || day_d <= bed.days()[1].day_d;
    return at_once ? "from the start" : fmt::format("from month {}", month_of_day(day_d));
}

std::string light_text(const BedForecast& bed, const Candidate& candidate,
                       const SiteAssessment& assessment) {
    const OverTime& light = assessment.criterion(Criterion::light);
    const std::string figures =
        fmt::format("{:.2f} of {:.2f} mol m-2 a day in month {}", assessment.dli_mol_m2_d,
                    assessment.need_dli_mol_m2_d, month_of_day(light.worst_day_d));
    const std::string when = from_when(bed, light.fails_from_d);
    if (assessment.too_bright)
        return fmt::format("too much light {} ({:.2f} mol m-2 a day)", when,
                           assessment.dli_mol_m2_d);
    const LightCulprit culprit = light_culprit(bed, candidate, assessment);
    std::string because;
    if (culprit.colony >= 0)
        because = fmt::format(" because of {}, which blocks {:.0f} % of its sky",
                              colony_name(bed, culprit.colony), 100.0 * culprit.share);
    else if (culprit.rock >= 0)
        because = fmt::format(
            " because of the rock '{}', which blocks {:.0f} % of its sky",
            escape_control(bed.layout().rocks[static_cast<std::size_t>(culprit.rock)].name),
            100.0 * culprit.share);
    else
        because = ": the lamps give too little here";
    return fmt::format("too little light {}{} ({})", when, because, figures);
}

std::string sand_text(const Candidate& candidate, const SiteAssessment& assessment) {
    return fmt::format(
        "sand smothers it: at worst {:.0f} mg/cm2 lie on it, and it tolerates 70{}",
        100.0 * assessment.sand_kg_m2,
        candidate.taxon.form == Form::bowl ? "; its bowl keeps the sand that falls in" : "");
}

std::string reach_text(const BedForecast& bed, const Candidate& candidate,
                       const SiteAssessment& assessment) {
    const OverTime& reach = assessment.criterion(Criterion::reach);
    const Taxon& other = taxon_of(bed, assessment.neighbour);
    const std::string name = colony_name(bed, assessment.neighbour);
    const char* const by = assessment.reach_by == ReachBy::sweepers ? "sweepers" : "tentacles";
    const std::string when = from_when(bed, reach.fails_from_d);
    const double own = candidate.taxon.sting_rank, its = other.sting_rank;
    const char* const wins = own > its   ? "it is the stronger"
                             : own < its ? "the other is the stronger"
                                         : "both are equally strong";
    if (assessment.reach_by == ReachBy::touch)
        return assessment.from_below
                   ? fmt::format("it grows up under {}, and the two touch {} ({})", name, when,
                                 wins)
                   : fmt::format("when inflated, it and {} touch {} ({})", name, when, wins);
    if (assessment.from_below && !assessment.reached_by_it)
        return fmt::format("it grows up under {}, and its {} reach that one {} ({})", name, by,
                           when, wins);
    return assessment.reached_by_it
               ? fmt::format("the {} of {} reach it {} ({})", by, name, when, wins)
               : fmt::format("its {} reach {} {} ({})", by, name, when, wins);
}

std::string flow_text(const Candidate& candidate, const SiteAssessment& assessment) {
    const double low = 100.0 * candidate.taxon.flow_low_m_s,
                 high = 100.0 * candidate.taxon.flow_high_m_s;
    const double flow =
        100.0 * (assessment.too_fast ? assessment.flow_high_m_s : assessment.flow_low_m_s);
    return fmt::format("the flow is {} cm/s; it does best at {:g} to {:g} cm/s",
                       beside_range(flow, low, high), low, high);
}

std::string room_text(const BedForecast& bed, const Candidate& candidate,
                      const SiteAssessment& assessment) {
    const std::string when = from_when(bed, assessment.criterion(Criterion::room).fails_from_d);
    switch (assessment.meets) {
        case Bound::glass:
            return fmt::format("it grows against the glass {}", when);
        case Bound::surface:
            return fmt::format("it grows to the surface {}", when);
        case Bound::rock:
            break;
    }
    return fmt::format(
        "too tall for the rock above it {}: {:.0f} cm at the end, and {:.0f} cm more inflated",
        when, 100.0 * assessment.end_height_m, 100.0 * candidate.taxon.overhang_m);
}

std::string grain_text(const Candidate& candidate, const SiteAssessment& assessment) {
    const Taxon& taxon = candidate.taxon;
    return fmt::format("grain too {} for it: {:.2g} mm, and it prefers {}",
                       assessment.grain_m < taxon.preferred_grain_low_m ? "fine" : "coarse",
                       1e3 * assessment.grain_m,
                       grain_range(taxon.preferred_grain_low_m, taxon.preferred_grain_high_m));
}

std::string ground_text(const Candidate& candidate, const SiteAssessment& assessment) {
    const Taxon& taxon = candidate.taxon;
    const bool mat = taxon.form == Form::mat;
    if (taxon.spreads_on == SpreadsOn::sand)
        return fmt::format("it cannot live on grain of {:.2g} mm: it needs sand of {}",
                           1e3 * assessment.grain_m,
                           grain_range(taxon.spread_grain_low_m, taxon.spread_grain_high_m));
    return fmt::format("it lives on rock{}; it cannot attach to grain of {:.2g} mm{}",
                       mat || taxon.spreads_on == SpreadsOn::both ? " or rubble" : "",
                       1e3 * assessment.grain_m,
                       mat ? ", and it stays on a rock laid on the sand" : "");
}

std::string taken_text(const BedForecast& bed, const SiteAssessment& assessment) {
    switch (assessment.taken) {
        case Taken::by_rock:
            return "there is rock on or just above the spot";
        case Taken::by_glass:
            return "the spot is too close to the glass for its size";
        case Taken::by_colony:
            return fmt::format("{} is there", colony_name(bed, assessment.taken_by));
        case Taken::free:
            break;
    }
    return "";
}

std::string criterion_text(const BedForecast& bed, const Candidate& candidate,
                           const SiteAssessment& assessment, Criterion criterion) {
    switch (criterion) {
        case Criterion::light:
            return light_text(bed, candidate, assessment);
        case Criterion::sand:
            return sand_text(candidate, assessment);
        case Criterion::reach:
            return reach_text(bed, candidate, assessment);
        case Criterion::flow:
            return flow_text(candidate, assessment);
        case Criterion::room:
            return room_text(bed, candidate, assessment);
        case Criterion::shade:
            return fmt::format("it takes too much light from {} {}",
                               colony_name(bed, assessment.shaded),
                               from_when(bed, assessment.criterion(criterion).fails_from_d));
        case Criterion::grain:
            return grain_text(candidate, assessment);
    }
    return "";
}

}  // namespace

std::vector<std::string> reasons_against(const BedForecast& bed, const Candidate& candidate,
                                         const SiteAssessment& assessment) {
    if (assessment.taken != Taken::free) return {taken_text(bed, assessment)};
    std::vector<std::string> reasons;
    if (!assessment.holds) reasons.push_back(ground_text(candidate, assessment));
    if (assessment.irritated_by >= 0)
        reasons.push_back(fmt::format(
            "'{}' live at the bases of corals here and irritate it",
            escape_control(
                bed.layout().inhabitants[static_cast<std::size_t>(assessment.irritated_by)].name)));
    for (const Criterion criterion : failing_criteria(assessment))
        reasons.push_back(criterion_text(bed, candidate, assessment, criterion));
    return reasons;
}

}  // namespace bedshade
