// The beam of a lamp: a power of the cosine, or a photometric file.
#pragma once

#include <map>
#include <memory>
#include <string>

#include "model/reef/lamp.h"

#include "sim/input/photometry/photometry_reader.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {

/// Photometric files read so far, by path: lamps of one make share one. Files that is invalid are
/// kept as nothing, so that they are reported once.
using PhotometryCache = std::map<std::string, std::shared_ptr<const Photometry>>;

/// Reads `beam_exponent`, `half_angle`, `photometry` or `photometry_text`, at most one of them,
/// into the lamp; returns the photometry, if there is any.
std::shared_ptr<const Photometry> read_beam(TableReader& in, Lamp& lamp, PhotometryCache& cache);

/// Warns of light lost by the file itself: sent upward, or lost by the lamp's tilt.
void warn_of_losses(TableReader& in, const Lamp& lamp, const Photometry& photometry);

}  // namespace bedshade
