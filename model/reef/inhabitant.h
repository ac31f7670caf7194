// Animals that stir the sand (bioturbation) or live in it (infauna).
#pragma once

#include <string>

#include "model/base/geometry.h"

namespace bedshade {

enum class Habit { stir, dwell_at_bases };

struct Inhabitant {
    std::string name;
    Habit does = Habit::stir;
    int count = 1;
    double events_per_day = 0.0;  ///< of one animal
    double mass_kg = 0.0;         ///< of sand lifted by one event
    double lift_m = 0.0;          ///< height it is lifted to
    /// Active hours of the day; for nocturnal animals the end is before the beginning.
    double from_h = 0.0, to_h = 24.0;
    Vec2 around_m = Vec2::Zero();
    double radius_m = 0.0;  ///< of its territory
};

/// Length of the active hours, across midnight if necessary [h].
inline double active_h(const Inhabitant& who) {
    return who.to_h > who.from_h ? who.to_h - who.from_h : who.to_h + 24.0 - who.from_h;
}

}  // namespace bedshade
