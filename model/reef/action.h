// Actions of the keeper on days of the run.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "model/base/geometry.h"
#include "model/reef/lamp.h"

namespace bedshade {

enum class ActionKind { trim, move, add, remove, feed, clean, set };

/// Amount of food, relative to usual feeding.
struct Feeding {
    double food = 1.0;              ///< 0 none, 1 as usual, 2 twice as much [1]
    std::optional<double> for_d;    ///< duration; none: until the next change
    std::optional<double> every_d;  ///< interval of repetition; none: once
};

/// New settings of a lamp; those without a value stay unchanged.
struct LampChange {
    std::string lamp;
    std::optional<double> output;   ///< share of full [1]
    std::optional<double> above_m;  ///< height above the water
    std::optional<LampDay> day;
};

/// New settings of a pump.
struct PumpChange {
    std::string pump;
    std::optional<double> flow_m3_s;
    std::optional<Vec3> direction;  ///< unit vector of the jet
};

/// New settings of the water: a water change, fresh activated carbon, a heater.
struct WaterChange {
    std::optional<double> temperature_C;
    std::optional<double> yellowing_per_m;  ///< initial value of its further drift
    std::optional<double> turbidity_kg_m3;
    std::optional<double> attenuation_per_m;  ///< only with a measured attenuation
};

/// `day_d` is counted from the start of the run.
struct Action {
    double day_d = 0.0;
    ActionKind kind = ActionKind::trim;
    std::string colony;  ///< empty: all colonies, or none
    /// trim: diameter [m]; move: position [m]; feed and set: new settings.
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
