// The shape of a lamp's light as a goniometer saw it: how strong in which direction.
#pragma once

#include <cstddef>
#include <vector>

namespace bedshade {

/// Relative intensities on a grid of two angles about a pole, spread out over all directions the
/// lamp was measured in (symmetric halves and quarters included). Between the grid's directions
/// intensity runs bilinearly in the two angles; outside the grid there is no light.
///
/// Angles are in the lamp's own frame: its axis (the middle of the beam, straight down for a lamp
/// hung straight), its side (the first edge of its face) and its width (the second). `polar` counts
/// from the pole. `turn` counts about the pole
///   - for the pole along the axis (LM-63 type C): from the side toward the width;
///   - for the pole along the width (type B): from the axis toward the side.
struct PhotometricWeb {
    enum class Pole { axis, width };
    Pole pole = Pole::axis;
    std::vector<double> polar_rad;  ///< rising, at least 2, within 0 to pi
    std::vector<double> turn_rad;   ///< rising, at least 2, over 2 pi at most
    std::vector<double> intensity;  ///< [turn][polar], not negative, not all zero; any unit

    double at(std::size_t turn, std::size_t polar) const {
        return intensity[turn * polar_rad.size() + polar];
    }
};

}  // namespace bedshade
