// First-order indices of the Ishigami function (Ishigami & Homma 1990), known in closed form.
#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/geometry.h"
#include "model/base/random.h"

#include "sim/verdict/sensitivity.h"

using namespace bedshade;

namespace {

constexpr double kA = 7.0, kB = 0.1;

/// Runs of y = sin x0 + a sin^2 x1 + b x2^4 sin x0, each x even in (-pi, pi).
struct Sample {
    std::vector<double> x[3], y;

    Sample(std::size_t runs, std::uint32_t index) {
        RandomStream lot(7, 0, Process::monte_carlo, 0, index);
        for (std::size_t i = 0; i < runs; ++i) {
            double at[3];
            for (std::size_t q = 0; q < 3; ++q) {
                at[q] = kPi * (2.0 * lot.uniform() - 1.0);
                x[q].push_back(at[q]);
            }
            y.push_back(std::sin(at[0]) + kA * std::pow(std::sin(at[1]), 2) +
                        kB * std::pow(at[2], 4) * std::sin(at[0]));
        }
    }
};

/// V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8, V3 = 0, V13 = 8 b^2 pi^8 / 225.
std::vector<double> known_indices() {
    const double pi4 = std::pow(kPi, 4);
    const double v1 = 0.5 * std::pow(1.0 + kB * pi4 / 5.0, 2), v2 = kA * kA / 8.0;
    const double all = v1 + v2 + 8.0 * kB * kB * pi4 * pi4 / 225.0;
    return {v1 / all, v2 / all, 0.0};
}

}  // namespace

TEST_CASE("the closed form gives the indices that are in print", "[ensemble]") {
    const auto known = known_indices();
    CHECK(known[0] == Approx(0.3139).margin(5e-5));
    CHECK(known[1] == Approx(0.4424).margin(5e-5));
}

TEST_CASE("first-order indices of the Ishigami function come out within their own error",
          "[ensemble]") {
    const auto known = known_indices();
    const Sample many(8192, 0);
    for (std::size_t q = 0; q < 3; ++q) {
        const FirstOrderIndex index = first_order_index(many.x[q], many.y);
        CHECK(index.standard_error < 0.02);
        CHECK(std::abs(index.share - known[q]) < 3.0 * index.standard_error);
    }
}

TEST_CASE("the 90 % interval of an index holds the truth about as often in samples of 64",
          "[ensemble]") {
    constexpr std::uint32_t kSamples = 400;
    const auto known = known_indices();
    int held[3] = {};
    for (std::uint32_t k = 1; k <= kSamples; ++k) {
        const Sample sample(64, k);
        for (std::size_t q = 0; q < 3; ++q) {
            const FirstOrderIndex index = first_order_index(sample.x[q], sample.y);
            held[q] += index.low() <= known[q] && known[q] <= index.high();
        }
    }
    // 90 % of 400 within three binomial deviations (1.5 %). An index of nothing can be missed on
    // one side alone, so its interval holds it more often.
    for (std::size_t q = 0; q < 2; ++q) {
        CHECK(held[q] > 0.855 * kSamples);
        CHECK(held[q] < 0.945 * kSamples);
    }
    CHECK(held[2] > 0.855 * kSamples);
}
