#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

#include "sim/base/calendar.h"
#include "sim/place/placing_report.h"
#include "sim/place/placing_words.h"

namespace bedshade {
namespace {

constexpr std::size_t kLineWidth = 116;
constexpr const char* kIndent = "      ";

std::string site_text(const Vec2& at_m) {
    return fmt::format("{:.4g},{:.4g}", 100.0 * at_m.x(), 100.0 * at_m.y());
}

/// A margin in its own unit, and the month it is worst in: a factor for ratios,
/// centimetres for room.
std::string to_spare(const SiteAssessment& assessment) {
    const WorstCriterion worst = worst_of(assessment);
    if (std::isinf(worst.value)) return "-";
    const OverTime& margin = assessment.criterion(worst.criterion);
    const int month = month_of_day(margin.worst_day_d);
    return is_length(worst.criterion)
               ? fmt::format("{} {:+.1f} cm ({})", to_string(worst.criterion), 100.0 * margin.worst,
                             month)
               : fmt::format("{} x{:.2f} ({})", to_string(worst.criterion), std::exp(margin.worst),
                             month);
}

/// Text in lines of at most kLineWidth, each after an indent, cut between words.
std::string wrapped(const std::string& text) {
    std::string lines, line = kIndent;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t space = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, space - at);
        at = space + 1;
        if (line.size() > 6 && line.size() + word.size() > kLineWidth) {
            lines += line + "\n";
            line = std::string(kIndent) + "  ";
        }
        line += (line.find_last_not_of(' ') == std::string::npos ? "" : " ") + word;
    }
    return lines + line + "\n";
}

/// The lines under a kind's own: reasons, changes, notes.
std::string details(const BedForecast& bed, const Candidate& candidate,
                    const SiteAssessment& assessment) {
    std::string text;
    for (const std::string& reason : reasons_against(bed, candidate, assessment))
        text += wrapped(reason);
    const auto changes = changes_needed(bed, candidate, assessment);
    if (!changes.empty())
        text += wrapped(fmt::format("suitable with {}", fmt::join(changes, ", and ")));
    const auto notes = notes_on(bed, candidate, assessment);
    if (!notes.empty()) text += wrapped(fmt::format("note: {}", fmt::join(notes, "; ")));
    return text;
}

/// The caution on the line of a coral that it is dangerous to handle.
std::string caution_part(const Taxon& taxon) {
    const std::string caution = handling_caution(taxon);
    return caution.empty() ? "" : "  CAUTION: " + caution;
}

double percent_of_bed(const KindOnBed& kind) {
    return kind.open_cells == 0 ? 0.0
                                : 100.0 * static_cast<double>(kind.does_cells) /
                                      static_cast<double>(kind.open_cells);
}

std::string kind_line(const KindOnBed& kind) {
    const Taxon& taxon = kind.candidate.taxon;
    return fmt::format("  {:<24} {:>11} {:>6.1f} %  {:<22} {}{}\n", taxon.id,
                       site_text(kind.best.at_m), percent_of_bed(kind), to_spare(kind.best),
                       known_by(taxon, kind.best), caution_part(taxon));
}

std::string group(const BedForecast& bed, const std::vector<KindOnBed>& kinds,
                  const std::vector<std::size_t>& order, bool does) {
    std::string text;
    for (const std::size_t k : order)
        if (kinds[k].best.does() == does)
            text += kind_line(kinds[k]) + details(bed, kinds[k].candidate, kinds[k].best);
    return text;
}

std::string closing_text() {
    return "Values from analogy, memory or practice are accurate to a factor of two at best: watch "
           "the coral, not the number.\n"
           "Stony corals are protected (CITES Appendix II): trade across borders needs permits; "
           "local codes and licensed\npractice come first. Mains power stands beside salt water: "
           "unplug before you reach in. Never release what was\nin a tank into the wild.\n";
}

std::string kinds_header() {
    return fmt::format("  {:<24} {:>11} {:>8}  {:<22} {}\n", "kind", "spot, cm", "of bed",
                       "least margin (month)", "evidence");
}

std::string months_text(const BedForecast& bed) {
    const int months = bed.layout().season.months;
    return fmt::format("{} month{}", months, months == 1 ? "" : "s");
}

/// Kinds for which the site is taken, by what takes it.
std::string taken_text(const BedForecast& bed, const std::vector<Candidate>& candidates,
                       const std::vector<SiteAssessment>& assessments) {
    std::map<std::string, std::vector<std::string>> kinds;
    for (std::size_t k = 0; k < assessments.size(); ++k)
        if (assessments[k].taken != Taken::free)
            kinds[reasons_against(bed, candidates[k], assessments[k]).front()].push_back(
                candidates[k].taxon.id);
    std::string text;
    for (const auto& [why, names] : kinds)
        text += fmt::format("\nNo room, because {}, for\n{}", why,
                            names.size() == assessments.size()
                                ? "      any of them\n"
                                : wrapped(fmt::format("{}", fmt::join(names, ", "))));
    return text;
}

}  // namespace

std::string placing_text(const BedForecast& bed, const std::vector<KindOnBed>& kinds) {
    if (bed.open_cells() == 0) return "There is no open sand: rock covers all of the bed.\n";
    const auto order = reporting_order(kinds);
    const std::string does = group(bed, kinds, order, true);
    const std::string does_not = group(bed, kinds, order, false);
    std::string text = fmt::format(
        "Suitable on the bed for {}, each at its best spot (x,y from the front left corner)\n",
        months_text(bed));
    text += does.empty() ? "  nothing in the table\n" : kinds_header() + does;
    if (!does_not.empty())
        text +=
            fmt::format("\nUnsuitable, each at its least bad spot\n{}{}", kinds_header(), does_not);
    return text +
           "  least margin: x1.50 is 1.5 times what the limit needs; reach and room in cm\n\n" +
           closing_text();
}

std::string placing_site_text(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const std::vector<SiteAssessment>& assessments) {
    std::string does, does_not;
    for (const std::size_t k : reporting_order(assessments)) {
        if (assessments[k].taken != Taken::free) continue;
        const Taxon& taxon = candidates[k].taxon;
        (assessments[k].does() ? does : does_not) +=
            fmt::format("  {:<24} {:<22} {}{}\n", taxon.id, to_spare(assessments[k]),
                        known_by(taxon, assessments[k]), caution_part(taxon)) +
            details(bed, candidates[k], assessments[k]);
    }
    const std::string where = assessments.empty() ? "" : site_text(assessments.front().at_m);
    std::string text =
        fmt::format("Suitable at {} cm for {}: least margin (month), evidence\n{}", where,
                    months_text(bed), does.empty() ? "  nothing in the table\n" : does);
    if (!does_not.empty()) text += "\nUnsuitable\n" + does_not;
    return text + taken_text(bed, candidates, assessments) + "\n" + closing_text();
}

}  // namespace bedshade
