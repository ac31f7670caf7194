#include "sim/output/placing_words.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/advice/cuts.h"
#include "sim/advice/light_culprit.h"
#include "sim/input/diagnostic.h"

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
/// short, since a spot is looked at once a month and may have been short from the look before on;
/// and no later than little is left to spare, since where light falls slowly a small error of it
/// is one of months.
std::string cut_of(const BedAhead& bed, const Candidate& candidate, const Outlook& outlook) {
    const OverTime& light = outlook.gauge(Gauge::light);
    const double fails_d = light.fails_from_d;
    const int month = last_month_before(std::min(fails_d - kDaysPerMonth, light.tight_from_d));
    if (outlook.too_bright || bed.days().size() < 2 || fails_d <= bed.days()[1].day_d || month < 1)
        return "";
    const LightCulprit culprit = light_culprit(bed, candidate, outlook);
    if (!culprit.by_growth || !is_cut(bed.layout(), culprit.colony)) return "";
    const Colony& plate = bed.layout().colonies[static_cast<std::size_t>(culprit.colony)];
    return fmt::format("{} cut back to {:.3g} cm by month {}, and again as it grows",
                       colony_name(bed, culprit.colony), 100.0 * plate.diameter_m, month);
}

std::string change_of(const BedAhead& bed, const Candidate& candidate, const Outlook& outlook,
                      Gauge gauge) {
    const double short_by = outlook.gauge(gauge).worst;
    const auto further = [&](const std::string& from) {
        return fmt::format("{:.0f} cm farther from {}", std::ceil(-100.0 * short_by), from);
    };
    switch (gauge) {
        case Gauge::light:
            return outlook.too_bright ? "less light" : percent_more(short_by) + " more light";
        case Gauge::sand:
            return fmt::format("{:.0f} % less sand on it",
                               std::ceil(-100.0 * std::expm1(short_by)));
        case Gauge::reach:
            return further(colony_name(bed, outlook.neighbour));
        case Gauge::flow:
            return fmt::format("flow of {:g} cm/s {}",
                               100.0 * (outlook.too_fast ? candidate.taxon.flow_high_m_s
                                                         : candidate.taxon.flow_low_m_s),
                               outlook.too_fast ? "at most" : "at least");
        case Gauge::room:
            return outlook.meets == Bound::glass
                       ? further("the glass")
                       : fmt::format("{:.0f} cm more room above", std::ceil(-100.0 * short_by));
        case Gauge::shade:
            return fmt::format("{} more light for {}", percent_more(short_by),
                               colony_name(bed, outlook.shaded));
        case Gauge::grain:
            break;
    }
    return fmt::format("grain of {}", grain_range(candidate.taxon.preferred_grain_low_m,
                                                  candidate.taxon.preferred_grain_high_m));
}

const Evidence& evidence_of(const Taxon& taxon, Gauge gauge) {
    switch (gauge) {
        case Gauge::light:
            return taxon.light;
        case Gauge::sand:
            return taxon.sand;
        case Gauge::reach:
            return taxon.contact;
        case Gauge::flow:
            return taxon.flow;
        case Gauge::room:
        case Gauge::shade:
            return taxon.growth;
        case Gauge::grain:
            break;
    }
    return taxon.habit;
}

const char* group_of(Gauge gauge) {
    switch (gauge) {
        case Gauge::reach:
            return "contact";
        case Gauge::room:
        case Gauge::shade:
            return "growth";
        case Gauge::grain:
            return "habit";
        default:
            return to_string(gauge);
    }
}

}  // namespace

std::string colony_name(const BedAhead& bed, int colony) {
    return fmt::format("'{}'",
                       printable(bed.layout().colonies[static_cast<std::size_t>(colony)].name));
}

std::string grain_range(double low_m, double high_m) {
    return low_m > 0.0 ? fmt::format("{:.3g} to {:.3g} mm", 1e3 * low_m, 1e3 * high_m)
                       : fmt::format("up to {:.3g} mm", 1e3 * high_m);
}

std::vector<std::string> changes_needed(const BedAhead& bed, const Candidate& candidate,
                                        const Outlook& outlook) {
    if (outlook.taken != Taken::free || !outlook.holds || outlook.bothered_by >= 0) return {};
    std::vector<std::string> changes;
    for (const Gauge gauge : failing_gauges(outlook)) {
        const std::string cut = gauge == Gauge::light ? cut_of(bed, candidate, outlook) : "";
        if (!cut.empty()) {
            changes.push_back(cut);
            continue;
        }
        const double limit = is_length(gauge) ? kNearMiss_m : kNearMiss;
        if (outlook.gauge(gauge).worst < -limit) return {};
        changes.push_back(change_of(bed, candidate, outlook, gauge));
    }
    return changes;
}

std::string known_by(const Taxon& taxon, const Outlook& outlook) {
    if (outlook.taken != Taken::free) return "-";
    const Gauge decides = worst_of(outlook).gauge;
    if (!outlook.holds || outlook.bothered_by >= 0)
        return fmt::format("habit {}", to_string(taxon.habit.confidence));
    std::string known =
        fmt::format("{} {}", group_of(decides), to_string(evidence_of(taxon, decides).confidence));
    if (decides == Gauge::reach)
        known += fmt::format(", growth {}", to_string(taxon.growth.confidence));
    return known;
}

std::string handling_caution(const Taxon& taxon) {
    return taxon.caution.rfind("CITES", 0) == 0 ? "" : printable(taxon.caution);
}

}  // namespace bedshade
