// Interface for parallel loops; the model owns no threads.
#pragma once

#include <cstddef>
#include <functional>

namespace bedshade {

/// Runs `body(begin, end)` over disjoint ranges that cover [0, count), on threads of the caller,
/// and returns when all are done. A body writes only to its own range, so results do not depend on
/// the division into ranges.
using ParallelFor = std::function<void(std::size_t count,
                                       const std::function<void(std::size_t, std::size_t)>& body)>;

/// One range, on the calling thread.
inline void run_serially(std::size_t count,
                         const std::function<void(std::size_t, std::size_t)>& body) {
    body(0, count);
}

}  // namespace bedshade
