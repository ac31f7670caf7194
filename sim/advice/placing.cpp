#include "sim/advice/placing.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include "sim/advice/spot_season.h"

namespace bedshade {
namespace {

/// What decides between spots of one kind, greater being better: whether it does, whether the
/// ground would hold it, and the worst gauge.
using Rank = std::tuple<bool, bool, bool, double>;

Rank rank_of(const Outlook& outlook) {
    const bool welcome = outlook.holds && outlook.bothered_by < 0;
    return {outlook.does(), outlook.taken == Taken::free, welcome, worst_of(outlook).value};
}

SpotMark mark_of(const Outlook& outlook) {
    const WorstGauge worst = worst_of(outlook);
    const Against against = outlook.taken != Taken::free ? Against::taken
                            : !outlook.holds             ? Against::ground
                            : outlook.bothered_by >= 0   ? Against::dwellers
                            : outlook.does()             ? Against::nothing
                                                         : Against::gauge;
    return {against, worst.gauge, static_cast<float>(worst.value)};
}

/// Counts a kind's cells and looks again at its best and its worst.
void sum_up(const BedAhead& bed, const std::vector<Rank>& ranks, KindOnBed& kind) {
    const std::size_t cells = ranks.size();
    std::size_t best = cells, least = cells;
    for (std::size_t cell = 0; cell < cells; ++cell) {
        if (!bed.is_open_sand(cell)) continue;
        ++kind.open_cells;
        const SpotMark& mark = kind.marks[cell];
        kind.does_cells += mark.against == Against::nothing ? 1 : 0;
        if (best == cells || ranks[cell] > ranks[best]) best = cell;
        if (mark.against != Against::taken &&
            (least == cells || mark.worst < kind.marks[least].worst))
            least = cell;
    }
    kind.best.taken = Taken::by_rock;  // where no cell is sand
    if (best < cells) kind.best = at_spot(bed, bed.spot_m(best), {kind.candidate}).front();
    if (least < cells) kind.least = at_spot(bed, bed.spot_m(least), {kind.candidate}).front();
}

}  // namespace

std::vector<KindOnBed> survey(const BedAhead& bed, const std::vector<Candidate>& candidates,
                              const ParallelFor& parallel, const GoOn& go_on) {
    constexpr std::size_t kAtOnce = 256;  // cells between two questions whether to go on
    const std::size_t cells = bed.grid().size();
    const double look_m = look_of(bed, candidates);
    std::vector<KindOnBed> kinds(candidates.size());
    for (std::size_t k = 0; k < candidates.size(); ++k) {
        kinds[k].candidate = candidates[k];
        kinds[k].marks.resize(cells);
    }
    std::vector<std::vector<Rank>> ranks(candidates.size(), std::vector<Rank>(cells));
    const auto judge_cell = [&](std::size_t cell) {
        if (!bed.is_open_sand(cell)) return;
        const Spot spot = spot_of(bed, bed.spot_m(cell), look_m);
        for (std::size_t k = 0; k < candidates.size(); ++k) {
            const Outlook outlook = outlook_of(bed, spot, candidates[k]);
            ranks[k][cell] = rank_of(outlook);
            kinds[k].marks[cell] = mark_of(outlook);
        }
    };
    for (std::size_t from = 0; from < cells; from += kAtOnce) {
        if (!go_on(static_cast<double>(from) / static_cast<double>(cells))) return {};
        parallel(std::min(kAtOnce, cells - from), [&](std::size_t begin, std::size_t end) {
            for (std::size_t cell = from + begin; cell < from + end; ++cell) judge_cell(cell);
        });
    }
    for (std::size_t k = 0; k < candidates.size(); ++k) sum_up(bed, ranks[k], kinds[k]);
    return kinds;
}

std::vector<Outlook> at_spot(const BedAhead& bed, const Vec2& at_m,
                             const std::vector<Candidate>& candidates) {
    const Spot spot = spot_of(bed, at_m, look_of(bed, candidates));
    std::vector<Outlook> outlooks;
    for (const Candidate& candidate : candidates)
        outlooks.push_back(outlook_of(bed, spot, candidate));
    return outlooks;
}

std::vector<std::size_t> told_order(const std::vector<const Outlook*>& outlooks) {
    std::vector<std::size_t> order(outlooks.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return rank_of(*outlooks[a]) > rank_of(*outlooks[b]);
    });
    return order;
}

}  // namespace bedshade
