// The keeper's light-meter readings against the model, and what they say of the lamps' output.
#pragma once

#include <vector>

#include "model/reef/layout.h"

namespace bedshade {

struct ReadingComparison {
    Reading reading;
    double model_umol_m2_s = 0.0;  ///< lamps as the layout states them
    double ratio = 0.0;            ///< reading over model; 0 where the model has no light there
};

struct Calibration {
    std::vector<ReadingComparison> comparisons;
    double median_ratio = 1.0;  ///< of those with a ratio; 1 where there is none
    double output_scale =
        1.0;            ///< what every lamp is multiplied by: the median, if the layout says so
    bool used = false;  ///< whether readings set the scale
};

/// Model light of each lamp at each reading, on its day, colonies as they were set, lamps as the
/// layout states them, [reading][lamp] [umol m-2 s-1].
std::vector<std::vector<double>> lamp_light_at(const Layout& layout,
                                               const std::vector<Reading>& readings);

/// Compares every reading with the model on the reading's day, colonies as they were set.
Calibration calibrate(const Layout& layout);

}  // namespace bedshade
