// Cell index of a mirror image of the tank (method of images).
#pragma once

#include <cstdlib>

namespace bedshade {

/// Number of sides crossed along each axis from the tank itself to the image, with sign.
struct ImageCell {
    int i = 0, j = 0;
    int reflections() const { return std::abs(i) + std::abs(j); }
};

}  // namespace bedshade
