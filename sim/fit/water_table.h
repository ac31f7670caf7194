// The model's light at meter readings as a function of how clear the water is.
#pragma once

#include <vector>

#include "model/base/parallel.h"
#include "model/reef/layout.h"

namespace bedshade {

/// The layout with its water's colour and turbidity (or its flat attenuation, where one is given)
/// multiplied.
Layout with_water(Layout layout, double factor);

/// Range of the table about the layout's own water: a factor of 8 either way.
inline constexpr double kMostWaterLog = 2.0794415416798357;

/// Light of each lamp at each reading for nine waters, evenly apart in the logarithm of the factor,
/// and by a cubic through the four nearest between them.
class WaterTable {
  public:
    WaterTable(const Layout& layout, const std::vector<Reading>& readings,
               const ParallelFor& parallel);

    std::size_t readings() const { return by_water_.front().size(); }
    std::size_t lamps() const { return lamps_; }
    /// Plateau light at a reading from one lamp [umol m-2 s-1]; `log_factor` within
    /// +-kMostWaterLog.
    double light(std::size_t reading, std::size_t lamp, double log_factor) const;

  private:
    std::vector<std::vector<std::vector<double>>> by_water_;  // [water][reading][lamp]
    std::size_t lamps_;
};

}  // namespace bedshade
