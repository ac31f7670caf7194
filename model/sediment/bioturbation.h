// Animals that throw sand: when, where, how much, and where it comes down.
//
// Events are a Poisson process within the animal's hours and territory. Sand lifted to a height z
// falls for z/w and is carried by the flow meanwhile. Resuspended shares and lift heights of fish
// have not been published; masses and lifts are the keeper's figures.
#pragma once

#include <cstdint>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/flow/flow_field.h"
#include "model/flow/seawater.h"
#include "model/reef/inhabitant.h"
#include "model/reef/rock.h"
#include "model/reef/substrate.h"
#include "model/reef/tank.h"
#include "model/sediment/footprint.h"
#include "model/sediment/sand_receptor.h"

namespace bedshade {

/// How sand lifted at a spot travels, for each metre that it falls.
struct Carry {
    Vec2 drift = Vec2::Zero();  ///< horizontal distance travelled [1]
    double scatter = 0.0;       ///< spread gained [1]
};

struct BioturbationEvent {
    double time_d = 0.0;         ///< days since the season's start
    Vec2 spot_m = Vec2::Zero();  ///< where the sand was lifted
    double mass_kg = 0.0;
    double lift_m = 0.0;
    int inhabitant = -1;  ///< index into Layout::inhabitants
    Carry carry;
};

/// The tank as stirring needs it. Everything referred to must outlive it.
struct BioturbationScene {
    const Tank& tank;
    const Substrate& substrate;
    const std::vector<Rock>& rocks;
    const FlowField& flow;
    const BedGrid& grid;
    Seawater sea;
};

/// Where one kind of animal works, and how the flow there carries what it lifts.
struct Territory {
    Inhabitant inhabitant;
    int index = -1;                ///< into Layout::inhabitants
    std::vector<Carry> carry;      ///< by cell of the bed
    std::vector<double> share;     ///< of each cell that is open sand within the territory [1]
    std::vector<bool> plain_sand;  ///< by cell: no rock anywhere on it
};

/// More events a day than this are told as bouts: several lifts at one spot at one time. A sifting
/// goby takes 540 mouthfuls an hour but works a spot at a time.
inline constexpr int kMostBoutsPerDay = 96;

/// Sand a kind of animal lifts in a mean day, all of its number together [kg/d].
double lifted_kg_d(const Inhabitant& inhabitant);

/// How sand lifted at a spot will travel: mean flow at half the lift, over the fall speed of the
/// bed's median grain there.
Carry carry_at(const Vec2& spot_m, double lift_m, const BioturbationScene& scene);

Territory territory_of(const Inhabitant& inhabitant, int index, const BioturbationScene& scene);

/// The events of one kind of animal on one day (any whole day since the season's start), in order
/// of time. What happens depends on the seed, the member, the day and the index alone.
std::vector<BioturbationEvent> bioturbation_events_of_day(const Territory& territory,
                                                          std::uint64_t seed, std::uint32_t member,
                                                          std::int32_t day,
                                                          const BioturbationScene& scene);

/// A mean day, as one event for each cell of the territory: masses add up to lifted_kg_d, times
/// mean nothing. Empty where it has no open sand.
std::vector<BioturbationEvent> mean_bioturbation(const Territory& territory,
                                                 const BioturbationScene& scene);

/// Sand of one event that lands on a receptor [kg/m2]; nothing at or above the height of the lift.
double deposit_kg_m2(const BioturbationEvent& event, const SandReceptor& receptor,
                     const Tank& tank);

}  // namespace bedshade
