// How far "twice as far from the lamp, a quarter of the light" is off in this tank, and why.
//
// The rule is scaled where a keeper would hold the meter: a little under the surface, straight
// below the strongest lamp. Then the tank is built up from what the rule knows, one thing after
// another, and each time scaled to the same reading; so what each thing changes adds up to what the
// rule misses. The order is part of the answer: what a mirror adds is what it adds to water that
// absorbs.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "model/reef/layout.h"

#include "sim/run/forecast.h"

namespace bedshade {

/// What the rule leaves out, in the order in which it is added.
enum class LeftOut : std::size_t {
    beam,
    lamp_size,
    refraction,
    absorption,
    walls,
    shade,
    returned
};
inline constexpr std::size_t kLeftOut = 7;

/// In plain words: "lamp size", "bending at the surface".
const char* to_string(LeftOut what);

/// The rule at one spot, for a level sensor facing up.
struct RuleAtSpot {
    Vec3 at_m = Vec3::Zero();
    double rule_umol_m2_s = 0.0;                      ///< what the rule says
    double found_umol_m2_s = 0.0;                     ///< what is computed
    std::array<double, kLeftOut> change_umol_m2_s{};  ///< adds up to found less rule
};

struct RuleOfThumb {
    std::string lamp;  ///< under which the rule is scaled
    Vec3 reference_m = Vec3::Zero();
    double reference_umol_m2_s = 0.0;
    std::vector<RuleAtSpot> spots;
};

/// Holds the rule to the light of the forecast's day, at spots in the water. With several lamps the
/// rule adds them up, each by its photon flux. Nothing when there is no lamp over the tank, or no
/// light at the reference.
std::optional<RuleOfThumb> rule_of_thumb(const Layout& layout, const Forecast& forecast,
                                         std::span<const Vec3> spots_m);

}  // namespace bedshade
