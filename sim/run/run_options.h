// What a run depends on besides its layout.
#pragma once

#include <cstdint>
#include <memory>

namespace bedshade {

struct Checkpoint;

struct RunOptions {
    std::uint64_t seed = 1;
    int member = 0;
    double output_scale = 1.0;  ///< multiplies every lamp (from meter readings)
    bool full_light = false;    ///< trace all light anew each step: the same bits, slowly
    std::shared_ptr<const Checkpoint> checkpoint = nullptr;  ///< to continue from; null: from day 0
};

}  // namespace bedshade
