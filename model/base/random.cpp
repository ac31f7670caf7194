#include "model/base/random.h"

#include <Random123/philox.h>
#include <cmath>
#include <numbers>

namespace bedshade {

std::array<std::uint32_t, 4> philox(const std::array<std::uint32_t, 4>& counter,
                                    const std::array<std::uint32_t, 2>& key) {
    const r123::Philox4x32::ctr_type c{{counter[0], counter[1], counter[2], counter[3]}};
    const r123::Philox4x32::key_type k{{key[0], key[1]}};
    const auto out = r123::Philox4x32{}(c, k);
    return {out[0], out[1], out[2], out[3]};
}

RandomStream::RandomStream(std::uint64_t seed, std::uint32_t member, Process process,
                           std::int32_t day, std::uint32_t index)
    : key_{static_cast<std::uint32_t>(seed),
           static_cast<std::uint32_t>(seed >> 32U) ^ (static_cast<std::uint32_t>(process) << 24U)},
      counter_{0, index, static_cast<std::uint32_t>(day), member} {}

std::uint32_t RandomStream::next() {
    if (used_ == 4) {
        block_ = philox(counter_, key_);
        ++counter_[0];
        used_ = 0;
    }
    return block_[static_cast<std::size_t>(used_++)];
}

double RandomStream::uniform() { return (static_cast<double>(next()) + 0.5) * 0x1p-32; }

double RandomStream::normal() {
    const double radius = std::sqrt(-2.0 * std::log(uniform()));
    return radius * std::cos(2.0 * std::numbers::pi * uniform());
}

int RandomStream::poisson(double mean) {
    if (!(mean > 0.0)) return 0;
    double term = std::exp(-mean);
    double sum = term;
    const double u = uniform();
    int k = 0;
    while (u > sum && k < 2000) {
        ++k;
        term *= mean / k;
        sum += term;
    }
    return k;
}

}  // namespace bedshade
