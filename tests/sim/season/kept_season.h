// Whole seasons, kept frame by frame or as what is told of their deeds.
#pragma once

#include <string>
#include <vector>

#include "sim/season/forecast.h"
#include "sim/season/pool.h"
#include "sim/verdict/chronicle.h"

namespace bedshade::test {

struct Kept final : FrameSink {
    std::vector<Frame> frames;
    void take(const Frame& frame) override { frames.push_back(frame); }
};

/// Every frame of a season.
inline std::vector<Frame> season_of(const Layout& layout,
                                    const ParallelFor& parallel = run_serially) {
    Forecast forecast(layout, {}, parallel);
    Kept kept;
    forecast.run({&kept}, [](double) { return true; });
    return kept.frames;
}

/// What a season's chronicle says of each deed.
inline std::vector<std::string> deeds_told(const Layout& layout) {
    Forecast forecast(layout, {}, run_serially);
    Chronicle chronicle(layout);
    forecast.run({&chronicle}, [](double) { return true; });
    std::vector<std::string> told;
    for (const EventRecord& event : chronicle.events())
        if (is_deed(event)) told.push_back(event.text);
    return told;
}

}  // namespace bedshade::test
