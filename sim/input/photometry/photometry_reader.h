// Photometric files (ANSI/IES LM-63): what a goniometer saw of a lamp.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/reef/lamp.h"

#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// Revisions of LM-63.
enum class PhotometryVersion { of_1986, of_1991, of_1995, of_2002, of_2019 };

/// A file as read.
struct Photometry {
    std::string text;  ///< the file, with plain line ends
    PhotometryVersion version = PhotometryVersion::of_1986;
    std::shared_ptr<const PhotometricWeb> web;  ///< candela, all the file's factors in it
    double rated_lumens = 0.0;                  ///< of all its lamps; 0 for absolute photometry
    double input_watts = 0.0;
    LampShape shape = LampShape::point;  ///< of the luminous opening, flattened
    Vec2 size_m = Vec2::Zero();          ///< of the opening: its length (along C0), its width
    std::vector<double> tilt_deg, tilt_factor;  ///< TILT=INCLUDE: output by tilt; else empty
};

/// A larger file is not photometry alone.
inline constexpr std::size_t kLargestPhotometry = 2U << 20U;
/// Directions of a web, once symmetry is spread out: a whole sphere at half a degree by one.
inline constexpr std::size_t kMostDirections = 131072;

/// Reads LM-63 of 1986, 1991, 1995, 2002 or 2019, types C and B, numbers laid over lines freely.
/// `file` names the text in messages. On error, reports the first one and returns nothing.
///
/// Candela are the file's times its multiplier and ballast factor; the number after that is a
/// second factor (ballast to lamp) up to 1991, unused up to 2002, and in 2019 a code of how the
/// file came about, so it counts up to 1991 only. TILT=INCLUDE scales all directions alike; its
/// factors are kept apart.
std::optional<Photometry> read_photometry(std::string_view text, const std::string& file,
                                          Diagnostics& diagnostics);

/// Share of its full output the lamp keeps at a tilt, by the file's TILT factors; 1 without them.
double tilt_factor_at(const Photometry& photometry, double tilt_rad);

}  // namespace bedshade
