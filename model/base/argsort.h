// Argsort: the indices that sort a sequence.
#pragma once

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <vector>

namespace bedshade {

/// The indices 0 to `count` - 1 in the order of `before(a, b)`; stable.
template <typename Before>
std::vector<std::size_t> argsort(std::size_t count, const Before& before) {
    std::vector<std::size_t> order(count);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), before);
    return order;
}

}  // namespace bedshade
