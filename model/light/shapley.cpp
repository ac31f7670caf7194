#include "model/light/shapley.h"

#include <algorithm>
#include <array>
#include <numeric>

namespace bedshade {
namespace {

struct Node {
    double u, weight;
};

// Eight-point Gauss-Legendre rule on [0, 1] (Abramowitz & Stegun 1964, table 25.4).
constexpr std::array<double, 4> kAbscissa = {0.1834346424956498, 0.5255324099163290,
                                             0.7966664774136267, 0.9602898564975363};
constexpr std::array<double, 4> kWeight = {0.3626837833783620, 0.3137066458778873,
                                           0.2223810344533745, 0.1012285362903763};

constexpr std::array<Node, 8> unit_rule() {
    std::array<Node, 8> rule{};
    for (std::size_t i = 0; i < 4; ++i) {
        rule[2 * i] = {0.5 * (1.0 - kAbscissa[i]), 0.5 * kWeight[i]};
        rule[2 * i + 1] = {0.5 * (1.0 + kAbscissa[i]), 0.5 * kWeight[i]};
    }
    return rule;
}

double product(const double* values, std::size_t count) {
    return std::accumulate(values, values + count, 1.0, [](double a, double b) { return a * b; });
}

double one_share(const double* transmittance, std::size_t count, std::size_t i) {
    static constexpr auto kRule = unit_rule();
    double integral = 0.0;
    for (const Node& node : kRule) {
        double others = node.weight;
        for (std::size_t j = 0; j < count; ++j)
            if (j != i) others *= 1.0 - node.u * (1.0 - transmittance[j]);
        integral += others;
    }
    return (1.0 - transmittance[i]) * integral;
}

}  // namespace

void shapley_shares(const double* transmittance, double* share, std::size_t count) {
    if (std::all_of(transmittance, transmittance + count, [](double t) { return t == 0.0; })) {
        std::fill(share, share + count, 1.0 / static_cast<double>(count));
        return;
    }
    for (std::size_t i = 0; i < count; ++i) share[i] = one_share(transmittance, count, i);
    const double sum = std::accumulate(share, share + count, 0.0);
    if (sum <= 0.0) return;
    const double scale = (1.0 - product(transmittance, count)) / sum;
    for (std::size_t i = 0; i < count; ++i) share[i] *= scale;
}

}  // namespace bedshade
