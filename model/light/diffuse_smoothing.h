// Averages of diffuse light over neighbouring receivers that share a set of paths: the second half
// of interleaved sampling (Keller & Heidrich 2001). Direct light is never smoothed.
#pragma once

#include <span>
#include <vector>

#include "model/base/bed_grid.h"

namespace bedshade {

/// Smooths [y][x][lamp] with weights 1 2 1 each way, which take equal parts from the four kinds of
/// cell that share a set. What is smoothed is the light of the open part of each cell (`open`, by
/// cell [0, 1]); a cell's own open part is then lit by it.
void smooth_bed(const BedGrid& grid, std::span<const double> open, std::size_t lamps,
                std::vector<double>& light);

/// Smooths [ring][sector][lamp] along each ring over `sharing` neighbours. Light of any other
/// number of places is left as it is.
void smooth_rings(std::size_t lamps, int sharing, std::vector<double>& light);

}  // namespace bedshade
