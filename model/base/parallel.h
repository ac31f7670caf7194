// How the model asks for parallel work without owning a thread.
#pragma once

#include <cstddef>
#include <functional>

namespace bedshade {

/// Runs `body(begin, end)` over disjoint ranges that cover [0, count), on whatever threads the
/// caller owns, and returns when all are done. Bodies write only what their range owns, so results
/// do not depend on how the ranges were cut.
using ParallelFor = std::function<void(std::size_t count,
                                       const std::function<void(std::size_t, std::size_t)>& body)>;

/// One range, on the calling thread.
inline void run_serially(std::size_t count,
                         const std::function<void(std::size_t, std::size_t)>& body) {
    body(0, count);
}

}  // namespace bedshade
