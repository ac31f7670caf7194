// A run under a plan of cuts as JSON for the cache; it reads back bit for bit.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "sim/trim/trim_runs.h"

namespace bedshade {

/// Without `unprevented`, which is derived from its flags.
nlohmann::ordered_json json_of(const TrimRun& run);
TrimRun trim_run_of(const nlohmann::ordered_json& json);

}  // namespace bedshade
