// Reads measurements as CSV: light by a meter, coral diameters by a ruler.
#pragma once

#include <filesystem>
#include <vector>

#include "model/reef/layout.h"

namespace bedshade {

/// One colony's diameter on one day.
struct MeasuredDiameter {
    int colony = 0;     ///< index into Layout::colonies
    double on_d = 0.0;  ///< days after the run's start, > 0
    double across_m = 0.0;
};

/// Columns x_cm, y_cm, z_cm, ppfd_umol_m2_s, and where wanted: on (a date; else the run's first
/// day), sensor (planar or scalar; else planar), immersion (what the meter's value is multiplied
/// by under water; else 1). Throws InputError naming every row that is invalid; readings must lie
/// in the tank's water.
std::vector<Reading> read_meter_readings(const std::filesystem::path& path, const Layout& layout);

/// Columns colony, on, diameter_cm. Days must be within the run. Throws InputError.
std::vector<MeasuredDiameter> read_diameters(const std::filesystem::path& path,
                                             const Layout& layout);

}  // namespace bedshade
