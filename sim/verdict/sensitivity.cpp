#include "sim/verdict/sensitivity.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <numeric>

#include "model/base/argsort.h"
#include "model/base/random.h"

#include "sim/run/prior.h"

namespace bedshade {
namespace {

double variance(const std::vector<double>& values) {
    const double n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double squares = 0.0;
    for (const double v : values) squares += (v - mean) * (v - mean);
    return squares / (n - 1.0);
}

/// Outcomes sorted by the parameter.
std::vector<double> in_order_of(const std::vector<double>& x, const std::vector<double>& y) {
    const auto order = argsort(x.size(), [&](std::size_t a, std::size_t b) { return x[a] < x[b]; });
    std::vector<double> sorted;
    sorted.reserve(order.size());
    for (const std::size_t i : order) sorted.push_back(y[i]);
    return sorted;
}

/// Of outcomes in order.
double share_of(const std::vector<double>& sorted) {
    const double all = variance(sorted);
    if (!(all > 0.0)) return 0.0;
    double squares = 0.0;
    for (std::size_t i = 1; i < sorted.size(); ++i)
        squares += (sorted[i] - sorted[i - 1]) * (sorted[i] - sorted[i - 1]);
    return 1.0 - squares / (2.0 * static_cast<double>(sorted.size() - 1)) / all;
}

/// A random half of the outcomes, in their order (selection sampling; Knuth 1969, algorithm 3.4.2
/// S).
std::vector<double> random_half(const std::vector<double>& sorted, RandomStream& random) {
    std::size_t wanted = sorted.size() / 2;
    std::vector<double> half;
    for (std::size_t i = 0; i < sorted.size() && wanted > 0; ++i) {
        const auto left = static_cast<double>(sorted.size() - i);
        if (random.uniform() * left >= static_cast<double>(wanted)) continue;
        half.push_back(sorted[i]);
        --wanted;
    }
    return half;
}

}  // namespace

double FirstOrderIndex::low() const {
    return std::clamp(share - kScoreAt95 * standard_error, 0.0, 1.0);
}

double FirstOrderIndex::high() const {
    return std::clamp(share + kScoreAt95 * standard_error, 0.0, 1.0);
}

double first_order_share(const std::vector<double>& x, const std::vector<double>& y) {
    assert(x.size() == y.size() && x.size() >= 4);
    return share_of(in_order_of(x, y));
}

FirstOrderIndex first_order_index(const std::vector<double>& x, const std::vector<double>& y) {
    assert(x.size() == y.size() && x.size() >= 4);
    constexpr std::uint32_t kHalves = 200;
    const std::vector<double> sorted = in_order_of(x, y);
    std::vector<double> shares;
    for (std::uint32_t k = 0; k < kHalves; ++k) {
        RandomStream random(0, 0, Process::permutation, 0, k);
        shares.push_back(share_of(random_half(sorted, random)));
    }
    const std::size_t half = sorted.size() / 2, rest = sorted.size() - half;
    const double to_whole = static_cast<double>(half) / static_cast<double>(rest);
    return {share_of(sorted), std::sqrt(to_whole * variance(shares))};
}

}  // namespace bedshade
