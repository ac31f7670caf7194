// Photometric web: measured angular distribution of a lamp's intensity.
#pragma once

#include <cstddef>
#include <vector>

namespace bedshade {

/// Relative intensities on a grid of two angles about a pole, for all measured directions
/// (symmetric halves and quarters expanded). Intensity is bilinear in the two angles between grid
/// directions and 0 outside the grid.
///
/// Angles are in the lamp's frame: its axis (the axis of the beam, straight down without tilt), its
/// side (the first edge of its face) and its width (the second). `polar` is measured from the pole,
/// `turn` about the pole
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
