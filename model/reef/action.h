// Something the keeper will do on a day of the season.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "model/base/geometry.h"
#include "model/reef/lamp.h"

namespace bedshade {

enum class ActionKind { trim, move, add, remove, feed, clean, set };

/// How much food there is, against what is usual.
struct Feeding {
    double food = 1.0;              ///< 0 none, 1 as usual, 2 twice as much [1]
    std::optional<double> for_d;    ///< how long; nothing: until fed otherwise
    std::optional<double> every_d;  ///< how often that comes again; nothing: once
};

/// What is set anew of a lamp; what is nothing stays.
struct LampChange {
    std::string lamp;
    std::optional<double> output;   ///< share of full [1]
    std::optional<double> above_m;  ///< height above the water
    std::optional<LampDay> day;
};

/// What is set anew of a pump.
struct PumpChange {
    std::string pump;
    std::optional<double> flow_m3_s;
    std::optional<Vec3> direction;  ///< unit vector of the jet
};

/// What is set anew of the water: a water change, fresh carbon, a heater.
struct WaterChange {
    std::optional<double> temperature_C;
    std::optional<double> yellowing_per_m;  ///< from which it drifts on
    std::optional<double> turbidity_kg_m3;
    std::optional<double> attenuation_per_m;  ///< where a measured one stands for the optics
};

/// `day_d` counts from the season's start.
struct Action {
    double day_d = 0.0;
    ActionKind kind = ActionKind::trim;
    std::string colony;  ///< empty: all, or none
    /// trim: diameter [m]; move: place [m]; feed and set: what changes.
    std::variant<std::monostate, double, Vec3, Feeding, LampChange, PumpChange, WaterChange> to;
};

/// An action as it was applied to one colony, or to the tank.
struct AppliedAction {
    ActionKind kind = ActionKind::trim;
    int action = -1;           ///< index into Layout::actions
    int colony = -1;           ///< index into Layout::colonies; -1: to the tank
    double before_m = 0.0;     ///< trim: across before
    double after_m = 0.0;      ///< trim: across after
    double cut_m2 = 0.0;       ///< trim: planar area taken away; 0: it was small enough
    Vec3 to_m = Vec3::Zero();  ///< move
};

}  // namespace bedshade
