#include "sim/verdict/ensemble.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <numeric>

#include "model/base/argsort.h"

#include "sim/run/prior.h"

namespace bedshade {
namespace {

/// Ranks from 1; equal values share the mean of theirs.
std::vector<double> ranks_of(const std::vector<double>& values) {
    const auto order =
        argsort(values.size(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
    std::vector<double> ranks(values.size());
    for (std::size_t first = 0, end = 0; first < order.size(); first = end) {
        while (end < order.size() && values[order[end]] == values[order[first]]) ++end;
        const double mean = 0.5 * static_cast<double>(first + 1 + end);
        for (std::size_t i = first; i < end; ++i) ranks[order[i]] = mean;
    }
    return ranks;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
    const double n = static_cast<double>(a.size());
    const double mean_a = std::accumulate(a.begin(), a.end(), 0.0) / n;
    const double mean_b = std::accumulate(b.begin(), b.end(), 0.0) / n;
    double ab = 0.0, aa = 0.0, bb = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        ab += (a[i] - mean_a) * (b[i] - mean_b);
        aa += (a[i] - mean_a) * (a[i] - mean_a);
        bb += (b[i] - mean_b) * (b[i] - mean_b);
    }
    return aa > 0.0 && bb > 0.0 ? ab / std::sqrt(aa * bb) : 0.0;
}

/// Under chance a rank correlation has deviation 1/sqrt(n - 1) (Kendall 1948), and so, to 1/n, has
/// the first-order index of ranks (Bartels 1982: half von Neumann's ratio). The largest of about a
/// hundred passes 3.5 deviations once in twenty times (Bonferroni).
bool beyond_chance(double measure, std::size_t members) {
    constexpr double kDeviations = 3.5;
    return std::abs(measure) * std::sqrt(static_cast<double>(members) - 1.0) > kDeviations;
}

std::vector<double> ranks_of_months(const FlagSpread& spread) {
    std::vector<double> months;
    for (const auto& month : spread.month)
        months.push_back(month ? *month : std::numeric_limits<double>::max());
    return ranks_of(months);
}

std::vector<double> scores_by_member(const std::vector<std::vector<double>>& scores,
                                     std::size_t quantity) {
    std::vector<double> of_members;
    of_members.reserve(scores.size());
    for (const auto& member : scores) of_members.push_back(member[quantity]);
    return of_members;
}

/// A quantity and what a measure makes of it.
struct Measured {
    std::size_t quantity = 0;
    double value = 0.0;
};

/// The quantity that a measure gives most, whatever its sign.
template <class Measure>
Measured most_by(const std::vector<std::vector<double>>& scores, Measure measure) {
    Measured best;
    for (std::size_t q = 0; q < scores.front().size(); ++q) {
        const double value = measure(scores_by_member(scores, q));
        if (std::abs(value) > std::abs(best.value)) best = {q, value};
    }
    return best;
}

}  // namespace

std::vector<FlagSpread> spread_of_flags(const std::vector<Flag>& flags, int members) {
    std::map<std::pair<int, FlagKind>, FlagSpread> found;
    for (const Flag& flag : flags) {
        assert(flag.member >= 0 && flag.member < members);
        FlagSpread& spread = found[{flag.colony, flag.kind}];
        spread.kind = flag.kind;
        spread.colony = flag.colony;
        spread.month.resize(static_cast<std::size_t>(members));
        auto& month = spread.month[static_cast<std::size_t>(flag.member)];
        month = month ? std::min(*month, flag.month) : flag.month;
    }
    std::vector<FlagSpread> spreads;
    spreads.reserve(found.size());
    for (auto& [key, spread] : found) spreads.push_back(std::move(spread));
    return spreads;
}

std::vector<Flag> flags_of_member(const std::vector<Flag>& flags, int member) {
    std::vector<Flag> own;
    std::copy_if(flags.begin(), flags.end(), std::back_inserter(own),
                 [member](const Flag& flag) { return flag.member == member; });
    return own;
}

int runs_with(const FlagSpread& spread) {
    return static_cast<int>(std::count_if(spread.month.begin(), spread.month.end(),
                                          [](const auto& month) { return month.has_value(); }));
}

std::vector<double> probability_by_month(const FlagSpread& spread, int months) {
    std::vector<double> probability;
    for (int m = 1; m <= months; ++m) {
        const auto by_then = std::count_if(spread.month.begin(), spread.month.end(),
                                           [m](const auto& month) { return month && *month <= m; });
        probability.push_back(static_cast<double>(by_then) /
                              static_cast<double>(spread.month.size()));
    }
    return probability;
}

std::optional<int> quantile_month(const FlagSpread& spread, double share) {
    std::vector<int> months;
    for (const auto& month : spread.month)
        if (month) months.push_back(*month);
    std::sort(months.begin(), months.end());
    // Without the small step 0.9 of 10 would ask for the tenth, since 0.9 is not a binary number.
    const double wanted = std::ceil(share * static_cast<double>(spread.month.size()) - 1e-9);
    const auto rank = static_cast<std::size_t>(std::max(1.0, wanted));
    return rank <= months.size() ? std::optional(months[rank - 1]) : std::nullopt;
}

ShareInterval share_interval(int hits, int runs) {
    const double n = runs, p = hits / n, z2 = kScoreAt95 * kScoreAt95;
    const double centre = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    const double half =
        kScoreAt95 * std::sqrt(p * (1.0 - p) / n + z2 / (4.0 * n * n)) / (1.0 + z2 / n);
    return {std::max(0.0, centre - half), std::min(1.0, centre + half)};
}

double rank_correlation(const std::vector<double>& a, const std::vector<double>& b) {
    assert(a.size() == b.size() && !a.empty());
    return correlation(ranks_of(a), ranks_of(b));
}

std::optional<Driver> main_driver(const FlagSpread& spread,
                                  const std::vector<std::vector<double>>& scores) {
    assert(scores.size() == spread.month.size() && !scores.empty());
    constexpr double kMost = 0.5;
    constexpr std::size_t kFewestForIndex = 4;
    const std::size_t members = scores.size();
    const std::vector<double> ranks = ranks_of_months(spread);
    const auto by_rank = [&](const auto& x) { return correlation(ranks, ranks_of(x)); };
    const auto by_index = [&](const auto& x) { return first_order_share(x, ranks); };
    const auto driver_of = [&](std::size_t quantity) {
        const std::vector<double> x = scores_by_member(scores, quantity);
        const double rho = by_rank(x);
        return Driver{quantity, rho, first_order_index(x, ranks), beyond_chance(rho, members)};
    };
    if (members < kFewestForIndex) return std::nullopt;
    const Measured steady = most_by(scores, by_rank);
    if (steady.value * steady.value > kMost && beyond_chance(steady.value, members))
        return driver_of(steady.quantity);
    const Measured any = most_by(scores, by_index);
    if (any.value <= kMost || !beyond_chance(any.value, members)) return std::nullopt;
    const Driver driver = driver_of(any.quantity);
    return driver.index.low() > kMost ? std::optional(driver) : std::nullopt;
}

}  // namespace bedshade
