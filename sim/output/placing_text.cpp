#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

#include "sim/input/diagnostic.h"
#include "sim/output/placing_report.h"
#include "sim/output/placing_words.h"

namespace bedshade {
namespace {

std::string spot_text(const BedAhead& bed, std::size_t cell) {
    const Vec2 at = 100.0 * bed.spot_m(cell);
    return fmt::format("{:.4g},{:.4g}", at.x(), at.y());
}

/// A margin in its own unit: a factor for what is a ratio, centimetres for room.
std::string to_spare(const Outlook& outlook) {
    const WorstGauge worst = worst_of(outlook);
    if (std::isinf(worst.value)) return "-";
    const double value = outlook.gauge(worst.gauge).worst;
    return is_length(worst.gauge)
               ? fmt::format("{} {:+.1f} cm", to_string(worst.gauge), 100.0 * value)
               : fmt::format("{} x{:.2f}", to_string(worst.gauge), std::exp(value));
}

/// The lines under a kind's own: reasons, changes, notes, caution.
std::string details(const BedAhead& bed, const Candidate& candidate, const Outlook& outlook,
                    const char* indent) {
    std::string text;
    for (const std::string& reason : reasons_against(bed, candidate, outlook))
        text += fmt::format("{}{}\n", indent, reason);
    const auto changes = changes_needed(bed, candidate, outlook);
    if (!changes.empty())
        text += fmt::format("{}it would do with {}\n", indent, fmt::join(changes, ", and "));
    const auto notes = notes_on(bed, candidate, outlook);
    if (!notes.empty()) text += fmt::format("{}{}\n", indent, fmt::join(notes, "; "));
    return text;
}

/// "  CAUTION: ..." on the line of a coral that it is dangerous to handle.
std::string caution_part(const Taxon& taxon) {
    const std::string caution = handling_caution(taxon);
    return caution.empty() ? "" : "  CAUTION: " + caution;
}

std::string kind_line(const BedAhead& bed, const KindOnBed& kind) {
    const Taxon& taxon = kind.candidate.taxon;
    const double share = kind.open_cells == 0 ? 0.0
                                              : 100.0 * static_cast<double>(kind.does_cells) /
                                                    static_cast<double>(kind.open_cells);
    return fmt::format("  {:<24} {:>11} {:>6.0f} %  {:<16} {}{}\n", taxon.id,
                       spot_text(bed, kind.best.cell), share, to_spare(kind.best),
                       known_by(taxon, kind.best), caution_part(taxon));
}

std::string group(const BedAhead& bed, const std::vector<KindOnBed>& kinds,
                  const std::vector<std::size_t>& order, bool does) {
    std::string text;
    for (const std::size_t k : order)
        if (kinds[k].best.does() == does)
            text += kind_line(bed, kinds[k]) +
                    details(bed, kinds[k].candidate, kinds[k].best, "      ");
    return text;
}

std::string closing_text() {
    return "Figures that are analog, memory or practice are good to a factor of two at best: watch "
           "the coral, not the number.\n"
           "Stony corals are protected (CITES Appendix II): trade across borders needs permits; "
           "local codes come first.\n"
           "Mains power stands beside salt water: unplug before you reach in. Never release what "
           "was in a tank into the wild.\n";
}

std::string kinds_header() {
    return fmt::format("  {:<24} {:>11} {:>8}  {:<16} {}\n", "kind", "spot, cm", "of bed",
                       "least to spare", "known by");
}

}  // namespace

std::string placing_text(const BedAhead& bed, const std::vector<KindOnBed>& kinds) {
    std::vector<const Outlook*> best;
    for (const KindOnBed& kind : kinds) best.push_back(&kind.best);
    const auto order = told_order(best);
    const std::string does = group(bed, kinds, order, true);
    const std::string does_not = group(bed, kinds, order, false);
    const int months = bed.layout().season.months;
    std::string text = fmt::format(
        "What could live on the bed for {} month{}, each at its best spot (x,y from the front left "
        "corner)\n",
        months, months == 1 ? "" : "s");
    text += does.empty() ? "  nothing in the table\n" : kinds_header() + does;
    if (!does_not.empty())
        text += fmt::format("\nWhat could not, at the spot where least is against it\n{}{}",
                            kinds_header(), does_not);
    return text +
           "  least to spare: x1.50 is half as much again as the limit asks; reach and room in "
           "cm\n\n" +
           closing_text();
}

std::string placing_spot_text(const BedAhead& bed, const std::vector<Candidate>& candidates,
                              const std::vector<Outlook>& outlooks) {
    std::vector<const Outlook*> all;
    for (const Outlook& outlook : outlooks) all.push_back(&outlook);
    const auto order = told_order(all);
    std::string does, does_not;
    for (const std::size_t k : order) {
        const Taxon& taxon = candidates[k].taxon;
        (outlooks[k].does() ? does : does_not) +=
            fmt::format("  {:<24} {:<16} {}{}\n", taxon.id, to_spare(outlooks[k]),
                        known_by(taxon, outlooks[k]), caution_part(taxon)) +
            details(bed, candidates[k], outlooks[k], "      ");
    }
    const std::string where = outlooks.empty() ? "" : spot_text(bed, outlooks.front().cell);
    return fmt::format("What could live at {} cm\n{}\nWhat could not\n{}\n{}", where,
                       does.empty() ? "  nothing in the table\n" : does,
                       does_not.empty() ? "  nothing\n" : does_not, closing_text());
}

}  // namespace bedshade
