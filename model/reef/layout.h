// What the keeper set up. It never changes during a run.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/reef/action.h"
#include "model/reef/colony.h"
#include "model/reef/inhabitant.h"
#include "model/reef/lamp.h"
#include "model/reef/pump.h"
#include "model/reef/rock.h"
#include "model/reef/substrate.h"
#include "model/reef/tank.h"
#include "model/reef/taxon.h"
#include "model/reef/water.h"

namespace bedshade {

/// A day of the (proleptic Gregorian) calendar, as days since 1970-01-01.
struct CalendarDay {
    std::int32_t days_since_1970 = 0;
};

struct Season {
    CalendarDay start;
    double from_d = 0.0;  ///< days after the start from which it goes on
    int months = 24;      ///< from the start
    double step_d = 7.0;
    bool use_readings = true;  ///< scale lamp output to the median of the readings
};

/// Days in a month, by the design's time words (a year of 365.25 d over 12).
inline constexpr double kDaysPerMonth = 30.4375;

enum class Sensor { planar, scalar };

/// One reading of a light meter.
struct Reading {
    Vec3 at_m = Vec3::Zero();
    double ppfd_umol_m2_s = 0.0;
    double on_d = 0.0;  ///< days after the season's start; may be negative
    Sensor sensor = Sensor::planar;
};

/// What measurements have told of figures that are otherwise assumed. Each factor lies between the
/// best estimate and its 95 % end; nothing: as little is known as of any tank.
struct Measured {
    std::optional<double> output_known_to;  ///< of the lamps
    std::optional<double> water_known_to;   ///< of the water's colour and turbidity
    double water_with_output = 0.0;         ///< correlation of the two logarithms [-1, 1]
};

struct Layout {
    std::string title;
    std::string path;  ///< of the file it was read from, for messages
    Season season;
    Tank tank;
    Substrate substrate;
    Water water;
    std::vector<Lamp> lamps;
    std::vector<Pump> pumps;
    std::vector<Rock> rocks;
    std::vector<Inhabitant> inhabitants;
    std::vector<Taxon> taxa;  ///< those its colonies use
    std::vector<Colony> colonies;
    std::vector<Reading> readings;
    std::vector<Action> actions;
    Measured measured;

    const Taxon& taxon_of(const Colony& colony) const {
        return taxa[static_cast<std::size_t>(colony.taxon)];
    }
};

}  // namespace bedshade
