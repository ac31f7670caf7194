// A tank in the space tiled with mirrored ones.
#pragma once

#include <cstdlib>

namespace bedshade {

/// How many sides light crosses along each axis to get there from the tank itself, with sign.
struct ImageCell {
    int i = 0, j = 0;
    int bounces() const { return std::abs(i) + std::abs(j); }
};

}  // namespace bedshade
