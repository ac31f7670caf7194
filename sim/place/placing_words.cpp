#include "sim/place/placing_words.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/advice/cuts.h"
#include "sim/base/text.h"
#include "sim/place/light_culprit.h"

namespace bedshade {
namespace {

/// A margin that fails by no more than this is a near miss: a third more of whatever is short.
constexpr double kNearMiss = 0.29;
constexpr double kNearMiss_m = 0.05;

std::string percent_more(double margin) {
    return fmt::format("{:.0f} %", std::ceil(100.0 * std::expm1(-margin)));
}

/// The cut that leaves it the light it had: where that sufficed until a neighbour that can be cut
/// grew over it. Empty otherwise. The month is one before that in which light is found to fall
/// short, since a site is looked at once a month and may have been short from the look before on;
/// and no later than little is left to spare, since where light falls slowly a small error of it
/// is one of months.
std::string cut_of(const BedForecast& bed, const Candidate& candidate,
                   const SiteAssessment& assessment) {
    const OverTime& light = assessment.criterion(Criterion::light);
    const double fails_d = light.fails_from_d;
    const int month = last_month_before(std::min(fails_d - kDaysPerMonth, light.tight_from_d));
    if (assessment.too_bright || bed.days().size() < 2 || fails_d <= bed.days()[1].day_d ||
        month < 1)
        return "";
    const LightCulprit culprit = light_culprit(bed, candidate, assessment);
    if (!culprit.by_growth || !is_cut(bed.layout(), culprit.colony)) return "";
    const Colony& plate = bed.layout().colonies[static_cast<std::size_t>(culprit.colony)];
    return fmt::format("{} cut back to {:.3g} cm by month {}, and again as it grows",
                       colony_name(bed, culprit.colony), 100.0 * plate.diameter_m, month);
}

std::string change_of(const BedForecast& bed, const Candidate& candidate,
                      const SiteAssessment& assessment, Criterion criterion) {
    const double short_by = assessment.criterion(criterion).worst;
    const auto further = [&](const std::string& from) {
        return fmt::format("{:.0f} cm farther from {}", std::ceil(-100.0 * short_by), from);
    };
    switch (criterion) {
        case Criterion::light:
            return assessment.too_bright ? "less light" : percent_more(short_by) + " more light";
        case Criterion::sand:
            return fmt::format("{:.0f} % less sand on it",
                               std::ceil(-100.0 * std::expm1(short_by)));
        case Criterion::reach:
            return further(colony_name(bed, assessment.neighbour));
        case Criterion::flow:
            return fmt::format("flow of {:g} cm/s {}",
                               100.0 * (assessment.too_fast ? candidate.taxon.flow_high_m_s
                                                            : candidate.taxon.flow_low_m_s),
                               assessment.too_fast ? "at most" : "at least");
        case Criterion::room:
            return assessment.meets == Bound::glass
                       ? further("the glass")
                       : fmt::format("{:.0f} cm more room above", std::ceil(-100.0 * short_by));
        case Criterion::shade:
            return fmt::format("{} more light for {}", percent_more(short_by),
                               colony_name(bed, assessment.shaded));
        case Criterion::grain:
            break;
    }
    return fmt::format("grain of {}", grain_range(candidate.taxon.preferred_grain_low_m,
                                                  candidate.taxon.preferred_grain_high_m));
}

const Evidence& evidence_of(const Taxon& taxon, Criterion criterion) {
    switch (criterion) {
        case Criterion::light:
            return taxon.light;
        case Criterion::sand:
            return taxon.sand;
        case Criterion::reach:
            return taxon.contact;
        case Criterion::flow:
            return taxon.flow;
        case Criterion::room:
        case Criterion::shade:
            return taxon.growth;
        case Criterion::grain:
            break;
    }
    return taxon.habit;
}

const char* group_of(Criterion criterion) {
    switch (criterion) {
        case Criterion::reach:
            return "contact";
        case Criterion::room:
        case Criterion::shade:
            return "growth";
        case Criterion::grain:
            return "habit";
        default:
            return to_string(criterion);
    }
}

}  // namespace

std::string colony_name(const BedForecast& bed, int colony) {
    return fmt::format(
        "'{}'", escape_control(bed.layout().colonies[static_cast<std::size_t>(colony)].name));
}

std::string grain_range(double low_m, double high_m) {
    return low_m > 0.0 ? fmt::format("{:.3g} to {:.3g} mm", 1e3 * low_m, 1e3 * high_m)
                       : fmt::format("up to {:.3g} mm", 1e3 * high_m);
}

std::vector<std::string> changes_needed(const BedForecast& bed, const Candidate& candidate,
                                        const SiteAssessment& assessment) {
    if (assessment.taken != Taken::free || !assessment.holds || assessment.irritated_by >= 0)
        return {};
    std::vector<std::string> changes;
    for (const Criterion criterion : failing_criteria(assessment)) {
        const std::string cut =
            criterion == Criterion::light ? cut_of(bed, candidate, assessment) : "";
        if (!cut.empty()) {
            changes.push_back(cut);
            continue;
        }
        const double limit = is_length(criterion) ? kNearMiss_m : kNearMiss;
        if (assessment.criterion(criterion).worst < -limit) return {};
        changes.push_back(change_of(bed, candidate, assessment, criterion));
    }
    return changes;
}

std::string known_by(const Taxon& taxon, const SiteAssessment& assessment) {
    if (assessment.taken != Taken::free) return "-";
    const Criterion decides = worst_of(assessment).criterion;
    if (!assessment.holds || assessment.irritated_by >= 0)
        return fmt::format("habit {}", to_string(taxon.habit.confidence));
    std::string known =
        fmt::format("{} {}", group_of(decides), to_string(evidence_of(taxon, decides).confidence));
    if (decides == Criterion::reach)
        known += fmt::format(", growth {}", to_string(taxon.growth.confidence));
    return known;
}

std::string handling_caution(const Taxon& taxon) {
    return taxon.caution.rfind("CITES", 0) == 0 ? "" : escape_control(taxon.caution);
}

}  // namespace bedshade
