// Points that a share of some values stay below.
#pragma once

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <vector>

namespace bedshade {

/// The value below which a share of rising `values` lies, by straight lines between them; there is
/// at least one.
template <class Number>
Number quantile(const std::vector<Number>& values, double share) {
    assert(!values.empty());
    const double place = share * static_cast<double>(values.size() - 1);
    const auto low = static_cast<std::size_t>(place);
    const std::size_t high = std::min(low + 1, values.size() - 1);
    const auto part = static_cast<Number>(place - static_cast<double>(low));
    return values[low] + part * (values[high] - values[low]);
}

}  // namespace bedshade
