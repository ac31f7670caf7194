// The angles a photometric file may be measured at, and the directions it leaves to symmetry.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/reef/photometric_web.h"

namespace bedshade {

/// How the two angles of a file are laid out, by the number the file gives.
enum class PhotometricType { c = 1, b = 2, a = 3 };

/// The content of a file: candela at each horizontal angle for each vertical one.
struct MeasuredAngles {
    PhotometricType type = PhotometricType::c;
    std::vector<double> vertical_deg, horizontal_deg;  ///< rising
    std::vector<double> candela;                       ///< [horizontal][vertical]
};

/// Why the first and last angle is invalid for the type, and what would.
struct AngleFault {
    std::string what, help;
};
std::optional<AngleFault> fault_in_vertical(PhotometricType type,
                                            const std::vector<double>& vertical_deg);
std::optional<AngleFault> fault_in_horizontal(PhotometricType type,
                                              const std::vector<double>& horizontal_deg);

/// Number of directions `unfolded` makes of angles without fault.
std::size_t unfolded_size(const MeasuredAngles& measured);

/// The web over all directions; the angles must be without fault.
///
/// Type C: a single horizontal angle stands for all; 0-90 is mirrored about 90 and 180 degrees,
/// 0-180 about 180, and 90-270 about 270. Type B: 0-90 is mirrored about 0, either way.
PhotometricWeb unfolded(const MeasuredAngles& measured);

}  // namespace bedshade
