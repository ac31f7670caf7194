// A fit as a layout file of its own, over the one it was made for.
#pragma once

#include <filesystem>
#include <string>

#include "sim/fit/fit_growth.h"
#include "sim/fit/fit_light.h"

namespace bedshade {

/// TOML that extends the layout `base` as seen from the folder of `path`, and sets what was fitted.
/// Either fit may be null.
std::string fitted_layout_text(const std::filesystem::path& path, const std::filesystem::path& base,
                               const Layout& truncate, const LightFit* light,
                               const GrowthFit* growth);

}  // namespace bedshade
