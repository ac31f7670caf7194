#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/base/calendar.h"
#include "sim/place/placing_report.h"

namespace bedshade {
namespace {

constexpr int kMostColumns = 60;

/// A site as one character: the reason against it as a letter, or its margin as a digit.
char character_of(const KindOnBed& kind, const BedForecast& bed, std::size_t cell) {
    if (!bed.is_open_sand(cell)) return '#';
    const SiteMark mark = kind.marks[cell];
    switch (mark.against) {
        case Against::nothing:
            break;
        case Against::taken:
            return '.';
        case Against::ground:
            return 'h';
        case Against::infauna:
            return 'b';
        case Against::criterion:
            constexpr std::array kLetters = {'l', 's', 'r', 'f', 'w', 'o', 'g'};
            static_assert(kLetters.size() == kCriteria.size());
            return kLetters[static_cast<std::size_t>(mark.criterion)];
    }
    return static_cast<char>('0' + std::clamp(static_cast<int>(10.0F * mark.worst), 0, 9));
}

std::string row_of(const KindOnBed& kind, const BedForecast& bed, int j, int stride) {
    std::string row;
    for (int i = stride / 2; i < bed.grid().nx; i += stride)
        row += character_of(kind, bed, bed.grid().index(i, j));
    return row;
}

std::string margin_text(const SiteAssessment& assessment, Criterion criterion) {
    const OverTime& margin = assessment.criterion(criterion);
    if (std::isinf(margin.worst)) return "no limit near";
    const int month = month_of_day(margin.worst_day_d);
    return is_length(criterion) ? fmt::format("{:+.1f} cm, month {}", 100.0 * margin.worst, month)
                                : fmt::format("x{:.3g}, month {}", std::exp(margin.worst), month);
}

/// Every margin of the best site, where it is worst.
std::string margins_text(const SiteAssessment& assessment) {
    std::string text = fmt::format("Margins at {:.4g},{:.4g} cm, each in its worst month\n",
                                   100.0 * assessment.at_m.x(), 100.0 * assessment.at_m.y());
    for (const Criterion criterion : kCriteria)
        text +=
            fmt::format("  {:<6} {}\n", to_string(criterion), margin_text(assessment, criterion));
    return text + "\n";
}

}  // namespace

std::string placing_map_text(const BedForecast& bed, const KindOnBed& kind) {
    const BedGrid& grid = bed.grid();
    const int stride = (grid.nx + kMostColumns - 1) / kMostColumns;
    std::string text = kind.best.taken == Taken::free ? margins_text(kind.best) : "";
    text += fmt::format("Suitability of the bed for {} (back of the tank at the top)\n",
                        kind.candidate.taxon.id);
    for (int j = grid.ny - 1 - stride / 2; j >= 0; j -= stride)
        text +=
            fmt::format("  y {:>5.1f} cm  {}\n", 100.0 * grid.y_m(j), row_of(kind, bed, j, stride));
    text += fmt::format("              x {:.3g} to {:.4g} cm, {:.3g} cm a character\n",
                        100.0 * grid.x_m(stride / 2),
                        100.0 * grid.x_m(grid.nx - 1 - (grid.nx - 1 - stride / 2) % stride),
                        100.0 * stride * grid.cell_x_m);
    return text +
           "  suitable: 0 to 9, the least margin in tenths (1: a tenth more than it needs; 9: 2.5 "
           "times)\n"
           "  unsuitable: l light, s sand, r reach of a neighbour or its own, f flow, w glass, "
           "surface or rock above,\n"
           "  o its shade on others, g grain, h no attachment, b animals at its base; . taken, # "
           "rock\n";
}

}  // namespace bedshade
