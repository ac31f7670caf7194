// One run of a batch, from its layout to its row.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>

#include "sim/batch/batch_row.h"
#include "sim/input/layout/layout_reader.h"

namespace bedshade {

struct RunTask {
    LayoutFile file;
    std::uint64_t seed = 1;
    int members = 1;
    /// Where the central member's trajectory is to be written; it stays there only if it is wanted
    /// by `keep`.
    std::optional<std::filesystem::path> trajectory;
    std::function<bool(const BatchRow&)> keep;
};

/// Runs every member on the calling thread and fills in the results; nothing if `go_on`, called
/// once a step, returned false. Throws what a forecast throws.
std::optional<BatchRow> run_one(const RunTask& task, const std::function<bool(double)>& go_on);

}  // namespace bedshade
