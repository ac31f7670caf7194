// The inverse-square rule against the light of a tank, as `bedshade light` says it.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "model/base/bed_grid.h"

#include "sim/run/rule_of_thumb.h"

namespace bedshade {

/// The bed's brightest bare cell and its dimmest that is not all but dark: where the rule is held
/// to the light. Nothing where rock covers the bed.
std::vector<Vec3> telling_spots(const Layout& layout, const BedGrid& grid,
                                const std::vector<double>& bed_umol_m2_s);

/// A few lines with numbers; empty without a rule.
std::string rule_text(const std::optional<RuleOfThumb>& rule);

/// The same as a JSON object; null without a rule.
nlohmann::ordered_json rule_json(const std::optional<RuleOfThumb>& rule);

}  // namespace bedshade
