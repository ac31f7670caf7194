// What a fit found, in words and as JSON.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "sim/fit/fit_growth.h"
#include "sim/fit/fit_light.h"

namespace bedshade {

/// Factors before and after, the readings beside the model, and what stays open.
std::string light_fit_text(const Layout& layout, const LightFit& fit);
std::string growth_fit_text(const Layout& layout, const GrowthFit& fit);

/// The same as parts of a JSON document.
nlohmann::ordered_json light_fit_json(const Layout& layout, const LightFit& fit);
nlohmann::ordered_json growth_fit_json(const Layout& layout, const GrowthFit& fit);

}  // namespace bedshade
