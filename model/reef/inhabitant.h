// Animals that move sand or live in it.
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
    /// Hours of the day in which it is active; one that is up by night ends before it begins.
    double from_h = 0.0, to_h = 24.0;
    Vec2 around_m = Vec2::Zero();
    double radius_m = 0.0;  ///< of its territory
};

/// How long it is active in a day, past midnight where it is [h].
inline double active_h(const Inhabitant& who) {
    return who.to_h > who.from_h ? who.to_h - who.from_h : who.to_h + 24.0 - who.from_h;
}

}  // namespace bedshade
