// One step of a run: what is observed on a day, and what becomes of the reef until the next.
#pragma once

#include <optional>

#include "sim/run/reef_light.h"
#include "sim/run/snapshot.h"
#include "sim/run/tank_model.h"

namespace bedshade {

/// The reef on the run's first day, before its actions: as it was set up, or as its checkpoint has
/// it. What is new in the tank is acclimated to its light of that day, or to what its keeper names.
Reef initial_reef(const TankModel& tank);

/// Applies the settings of the reef's day to the tank. Light that comes from elsewhere, and a bed
/// in other water, begin again.
Reef change_settings(TankModel& tank, Reef reef);

/// Applies the actions of the reef's day.
Reef apply_actions(const TankModel& tank, Reef reef);

/// What there is to see on the reef's day: light, flow, bed, sand and carbon, in that order, since
/// carbon depends on the others. `step_d` is the time until the next observation (0: none follows).
/// The snapshot's reef is the given one with its light, wakes and stages brought to the day.
Snapshot observe(const TankModel& tank, const Reef& reef, double step_d);

/// The reef at the end of the snapshot's step: contact, growth, light, sand, irritation, then walks
/// and falls.
Reef advance(const TankModel& tank, const Snapshot& snapshot);

}  // namespace bedshade
