// Calibrates lamp output and water clarity from light-meter readings.
#pragma once

#include <string>
#include <vector>

#include "model/base/parallel.h"
#include "model/reef/layout.h"

namespace bedshade {

/// A factor on a value of the layout, as known before and after the readings. Spreads are factors
/// between the best estimate and its 95 % end.
struct FittedFactor {
    double best = 1.0;
    double known_to_before = 1.0, uncertainty_factor = 1.0;

    /// How much of the doubt is left [0, 1]: ratio of the two logarithms.
    double remaining_uncertainty() const;
};

struct FittedReading {
    Reading reading;
    double before_umol_m2_s = 0.0, after_umol_m2_s = 0.0;  ///< the model's
    double off = 0.0;  ///< reading less the fitted model, in its own standard deviations
};

struct LightFit {
    FittedFactor output;              ///< of all lamps together
    FittedFactor water;               ///< of yellowing and turbidity, or of the flat attenuation
    double water_with_output = 0.0;   ///< correlation of the two logarithms
    std::vector<double> lamp_output;  ///< by lamp: its own factor, the common one included
    std::vector<FittedReading> readings;
    double scatter = 0.0;  ///< root mean square of `off`, over the degrees of freedom left
    double condition =
        0.0;  ///< of the readings alone, in output and water; large if they cannot be separated
    bool converged = false;
};

/// Assumed meter errors: standard deviations as fractions of a reading.
struct MeterError {
    double scatter = 0.05;      ///< of each reading by itself: position, ripples
    double calibration = 0.06;  ///< of all readings of a meter together
};

/// Fits ln output (common, and each lamp's own part where there are several), ln water and the
/// meter's calibration, each with the normal prior that ensembles sample, by least squares.
/// Where readings scatter more than `error` says, the spreads are widened to match. The model's
/// light is worked out for nine waters and interpolated between them. Needs one reading or more.
LightFit fit_light(const Layout& layout, const std::vector<Reading>& readings,
                   const MeterError& error, const ParallelFor& parallel);

/// What the readings leave undetermined, in sentences; empty if nothing.
std::vector<std::string> open_questions(const LightFit& fit);

/// The layout with the fitted lamps and water, and how well they are known; its own readings no
/// longer scale the lamps.
Layout with_light(Layout layout, const LightFit& fit);

}  // namespace bedshade
