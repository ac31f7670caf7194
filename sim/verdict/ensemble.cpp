#include "sim/verdict/ensemble.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <numeric>

namespace bedshade {
namespace {

/// Ranks from 1; equal values share the mean of theirs.
std::vector<double> ranks_of(const std::vector<double>& values) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
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

/// Under chance a rank correlation has deviation 1/sqrt(n - 1) (Kendall 1948). The largest of about
/// a hundred passes 3.5 deviations once in twenty times (Bonferroni).
bool beyond_chance(double rho, std::size_t members) {
    constexpr double kDeviations = 3.5;
    return std::abs(rho) * std::sqrt(static_cast<double>(members) - 1.0) > kDeviations;
}

std::vector<double> months_or_never(const FlagSpread& spread) {
    std::vector<double> months;
    for (const auto& month : spread.month)
        months.push_back(month ? *month : std::numeric_limits<double>::max());
    return months;
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
    constexpr double kZ = 1.645;
    const double n = runs, p = hits / n, z2 = kZ * kZ;
    const double centre = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    const double half = kZ * std::sqrt(p * (1.0 - p) / n + z2 / (4.0 * n * n)) / (1.0 + z2 / n);
    return {std::max(0.0, centre - half), std::min(1.0, centre + half)};
}

double rank_correlation(const std::vector<double>& a, const std::vector<double>& b) {
    assert(a.size() == b.size() && !a.empty());
    return correlation(ranks_of(a), ranks_of(b));
}

std::optional<Driver> main_driver(const FlagSpread& spread,
                                  const std::vector<std::vector<double>>& scores) {
    assert(scores.size() == spread.month.size() && !scores.empty());
    const std::vector<double> months = months_or_never(spread);
    Driver best;
    for (std::size_t q = 0; q < scores.front().size(); ++q) {
        std::vector<double> of_members;
        for (const auto& member : scores) of_members.push_back(member[q]);
        const double rho = rank_correlation(months, of_members);
        if (std::abs(rho) > std::abs(best.rank_correlation)) best = {q, rho};
    }
    const double explained = best.rank_correlation * best.rank_correlation;
    if (explained <= 0.5 || !beyond_chance(best.rank_correlation, scores.size()))
        return std::nullopt;
    return best;
}

}  // namespace bedshade
