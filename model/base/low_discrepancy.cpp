#include "model/base/low_discrepancy.h"

namespace bedshade {
namespace {

double unit_interval(std::uint32_t bits) { return static_cast<double>(bits) * 0x1p-32; }

}  // namespace

Vec2 low_discrepancy_point(std::uint32_t k) {
    std::uint32_t first = 0, second = 0, step = 1U << 31;
    for (std::uint32_t bit = 1U << 31; k != 0; k >>= 1, bit >>= 1, step ^= step >> 1) {
        if ((k & 1U) == 0) continue;
        first ^= bit;
        second ^= step;
    }
    return {unit_interval(first), unit_interval(second)};
}

}  // namespace bedshade
