#include "sim/batch/sampling.h"

#include <array>
#include <cassert>

#include "model/base/random.h"

namespace bedshade {
namespace {

constexpr std::array<std::uint64_t, kMostSampledKeys> kPrimes = {
    2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89};

/// Keeps these samples apart from those of any run.
constexpr std::uint32_t kDomain = 0x73747564;

double uniform(std::uint64_t seed, std::uint64_t run, std::size_t key) {
    const auto bits =
        philox({static_cast<std::uint32_t>(run), static_cast<std::uint32_t>(run >> 32U),
                static_cast<std::uint32_t>(key), kDomain},
               {static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32U)});
    return (static_cast<double>(bits[0]) + 0.5) / 4294967296.0;
}

/// The digits of a number mirrored at the point (van der Corput).
double mirrored(std::uint64_t number, std::uint64_t base) {
    double value = 0.0, place = 1.0;
    for (; number > 0; number /= base) {
        place /= static_cast<double>(base);
        value += place * static_cast<double>(number % base);
    }
    return value;
}

}  // namespace

double sampled_fraction(SampleKind kind, std::uint64_t seed, std::uint64_t run, std::size_t key) {
    assert(key < kMostSampledKeys);
    if (kind == SampleKind::random) return uniform(seed, run, key);
    // No run has this number, so that the shift is a sample of its own.
    const double shift = uniform(seed, ~std::uint64_t{0}, key);
    const double share = mirrored(run + 1, kPrimes[key]) + shift;
    return share < 1.0 ? share : share - 1.0;
}

}  // namespace bedshade
