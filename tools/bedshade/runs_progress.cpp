#include "tools/bedshade/runs_progress.h"

#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "tools/bedshade/interrupt.h"

namespace bedshade {

GoOn RunsProgress::next_run() {
    return [this, before = 0.0](double done) mutable {
        const std::lock_guard lock(mutex_);
        done_ += done - std::exchange(before, done);
        bar_.show(done_ / runs_,
                  fmt::format("run {} of {}", std::min(runs_, 1 + static_cast<int>(done_)), runs_));
        return !interrupted();
    };
}

}  // namespace bedshade
