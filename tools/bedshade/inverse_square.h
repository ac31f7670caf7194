// How far a tank departs from the inverse-square law.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "sim/run/forecast.h"

namespace bedshade {

/// Light on the bed by the law and by the model.
struct InverseSquareSpot {
    Vec3 at_m = Vec3::Zero();
    double law_umol_m2_s = 0.0, model_umol_m2_s = 0.0;
};

/// The law, scaled to the model's light below the strongest lamp.
struct InverseSquareComparison {
    std::string lamp;
    Vec3 reference_m = Vec3::Zero();
    double reference_umol_m2_s = 0.0;
    std::vector<InverseSquareSpot> spots;  ///< bare sand: the brightest, then the darkest
};

/// Nothing without a lamp over the water, or where nothing reaches the spot below it.
/// `bed_umol_m2_s` is the light of the forecast's bed.
std::optional<InverseSquareComparison> compare_inverse_square(
    const Layout& layout, const Forecast& forecast, const std::vector<double>& bed_umol_m2_s);

/// One sentence; empty where there is no comparison.
std::string inverse_square_text(const std::optional<InverseSquareComparison>& comparison);
nlohmann::ordered_json inverse_square_json(
    const std::optional<InverseSquareComparison>& comparison);

}  // namespace bedshade
