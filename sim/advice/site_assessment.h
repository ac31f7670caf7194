// What would become of one coral set on one site of the bed: margins over the horizon, what stands
// against it, and what is worth knowing.
#pragma once

#include <array>
#include <limits>
#include <optional>
#include <vector>

#include "model/base/geometry.h"

#include "sim/advice/candidate.h"

namespace bedshade {

/// What a margin is about. The first four are those of sim/verdict/margins.h.
enum class Criterion : unsigned char {
    light,  ///< ln of its daily light over its need (30-day means)
    sand,   ///< ln of the smothering load over the sand on it
    reach,  ///< room to the nearest neighbour beyond the farther of the two reaches [m]
    flow,   ///< ln of speed over the lowest it keeps in, or of the highest over the speed
    room,   ///< room to glass, to the surface, or to rock above its inflated tissue [m]
    shade,  ///< ln of a neighbour's light over its need, once this coral shades it
    grain,  ///< ln of the grain over the finest it prefers, or of the coarsest over the grain
};
inline constexpr std::array kCriteria = {Criterion::light, Criterion::sand, Criterion::reach,
                                         Criterion::flow,  Criterion::room, Criterion::shade,
                                         Criterion::grain};
const char* to_string(Criterion criterion);
/// Whether the criterion is a length; the others are natural logarithms.
bool is_length(Criterion criterion);

/// A margin under which little is left to spare: a tenth, or 10 cm (a judgement, no source).
inline constexpr double kTight = 0.1;

/// A margin over the horizon: negative where the limit was passed, infinite where there is none.
struct OverTime {
    double worst = std::numeric_limits<double>::infinity();
    double worst_day_d = 0.0;
    double fails_from_d = std::numeric_limits<double>::infinity();  ///< first day below 0
    double tight_from_d = std::numeric_limits<double>::infinity();  ///< first day below kTight

    void note(double value, double day_d) {
        if (value < worst) {
            worst = value;
            worst_day_d = day_d;
        }
        if (value < 0.0 && day_d < fails_from_d) fails_from_d = day_d;
        if (value < kTight && day_d < tight_from_d) tight_from_d = day_d;
    }
    bool fails() const { return worst < 0.0; }
};

/// What keeps a site from being used at all.
enum class Taken : unsigned char { free, by_rock, by_colony, by_glass };

/// How two corals get at each other.
enum class ReachBy : unsigned char { tentacles, sweepers, touch };

/// What a coral's top or rim comes up against first.
enum class Bound : unsigned char { glass, surface, rock };

struct SiteAssessment {
    Vec2 at_m = Vec2::Zero();
    Taken taken = Taken::free;
    int taken_by = -1;      ///< colony, where it is one
    bool holds = true;      ///< the ground gives its kind hold
    int irritated_by = -1;  ///< inhabitant that lives at coral bases here and irritates its kind
    std::array<OverTime, kCriteria.size()> gauges;

    int neighbour = -1;                     ///< colony that `reach` is about
    bool reached_by_it = false;             ///< that one reaches farther
    bool from_below = false;                ///< it stands under that one
    ReachBy reach_by = ReachBy::tentacles;  ///< how the farther of the two reaches
    int shaded = -1;                        ///< colony that `shade` is about
    bool too_bright = false;                ///< `light` is about too much of it
    bool too_fast = false;                  ///< `flow` is about too much of it
    Bound meets = Bound::glass;             ///< what `room` is about
    int allelopathy = -1;  ///< colony that its chemistry reaches, or whose reaches it

    double dli_mol_m2_d = 0.0, need_dli_mol_m2_d = 0.0;  ///< on the day `light` is worst
    double flow_low_m_s = 0.0, flow_high_m_s = 0.0;      ///< least and most it stands in
    double deposition_kg_m2_d = 0.0, sand_kg_m2 = 0.0;   ///< mean sand falling; most lying on it
    double grain_m = 0.0;
    double end_diameter_m = 0.0, end_height_m = 0.0;
    bool starves = false;  ///< its reserve is spent before the horizon

    const OverTime& criterion(Criterion which) const {
        return gauges[static_cast<std::size_t>(which)];
    }
    OverTime& criterion(Criterion which) { return gauges[static_cast<std::size_t>(which)]; }
    bool does() const;
};

/// The worst criterion on one scale: lengths count kRoomOfOne_m to one; grain only where it fails.
struct WorstCriterion {
    double value = std::numeric_limits<double>::infinity();
    Criterion criterion = Criterion::light;
};
WorstCriterion worst_of(const SiteAssessment& assessment);

/// Criteria that fail, the worst on that scale first.
std::vector<Criterion> failing_criteria(const SiteAssessment& assessment);

}  // namespace bedshade
