// How fast each measured colony grows, against its kind, from its diameters on dated days.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "model/base/parallel.h"
#include "model/reef/layout.h"

#include "sim/input/layout/measurements.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

struct FittedDiameter {
    MeasuredDiameter measured;
    double before_m = 0.0, after_m = 0.0;  ///< the model's on that day
};

/// One measured colony.
struct FittedGrowth {
    int colony = 0;
    double factor = 1.0;  ///< on the layout's growth factor
    double known_to_before = 1.0, uncertainty_factor = 1.0;
    /// Model diameter's relative change with the factor's on the last measured day: near 0 the
    /// diameter gives no information on growth.
    double leverage = 0.0;
};

struct GrowthFit {
    std::vector<FittedGrowth> colonies;
    std::vector<FittedDiameter> diameters;
    double scatter = 0.0;  ///< root mean square misfit in standard deviations of a ruler
    bool converged = false;
    bool finished = false;  ///< not stopped by `go_on`; all else is empty otherwise
};

/// Fits the logarithm of each measured colony's growth factor, with its kind's spread of growth as
/// prior, by least squares on the diameters of whole forecasts. A ruler is taken to be off by 3 %
/// and 2 mm (a judgement, no source). How a colony's growth changes its neighbours is in the
/// forecasts and left out of the slopes alone. `output_scale` multiplies every lamp.
GrowthFit fit_growth(const Layout& layout, const std::vector<MeasuredDiameter>& diameters,
                     double output_scale, std::uint64_t seed, const ParallelFor& parallel,
                     const GoOn& go_on);

std::vector<std::string> open_questions(const Layout& layout, const GrowthFit& fit);

/// The layout with the fitted growth factors and how well they are known.
Layout with_growth(Layout layout, const GrowthFit& fit);

}  // namespace bedshade
