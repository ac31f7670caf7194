// Bioturbation: animals that lift sand. When, where and how much, and where it is deposited.
//
// Events are a Poisson process within the animal's active hours and territory. Sand lifted to
// height z settles for the time z/w, w its settling velocity, and is advected by the flow
// meanwhile: it lands on a Gaussian footprint at the distance u z/w. Resuspension and lift heights
// of fish are not published; masses and lift heights are values of the layout.
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

/// Advection of sand lifted at a point, per metre of settling.
struct SettlingDrift {
    Vec2 distance = Vec2::Zero();  ///< horizontal distance, u/w [1]
    double spread = 0.0;           ///< growth of the spread [1]
};

struct BioturbationEvent {
    double time_d = 0.0;         ///< days since the start of the run
    Vec2 spot_m = Vec2::Zero();  ///< where the sand is lifted
    double mass_kg = 0.0;
    double lift_m = 0.0;
    int inhabitant = -1;  ///< index into Layout::inhabitants
    SettlingDrift drift;
};

/// Input of the bioturbation model. All references must outlive it.
struct BioturbationScene {
    const Tank& tank;
    const Substrate& substrate;
    const std::vector<Rock>& rocks;
    const FlowField& flow;
    const BedGrid& grid;
    Seawater sea;
};

/// Territory of one kind of animal, with the advection of lifted sand in each cell.
struct Territory {
    Inhabitant inhabitant;
    int index = -1;                    ///< into Layout::inhabitants
    std::vector<SettlingDrift> drift;  ///< by cell of the bed
    std::vector<double>
        share;  ///< fraction of each cell that is open sand within the territory [1]
    std::vector<bool> all_sand;  ///< by cell: no rock in it
};

/// Larger numbers of events per day are grouped into bouts: several lifts at one point and time. A
/// sifting goby takes 540 mouthfuls an hour, many of them at the same spot.
inline constexpr int kMaxBoutsPerDay = 96;

/// Sand that a kind of animal lifts on a mean day, all individuals together [kg/d].
double lifted_kg_d(const Inhabitant& inhabitant);

/// Advection of sand lifted at a point: mean flow at half the lift height over the settling
/// velocity of the bed's median grain there.
SettlingDrift settling_drift_at(const Vec2& spot_m, double lift_m, const BioturbationScene& scene);

Territory territory_of(const Inhabitant& inhabitant, int index, const BioturbationScene& scene);

/// The events of one kind of animal on one day (days since the start of the run), in order of time.
/// They depend only on the seed, the member, the day and the index.
std::vector<BioturbationEvent> bioturbation_events_of_day(const Territory& territory,
                                                          std::uint64_t seed, std::uint32_t member,
                                                          std::int32_t day,
                                                          const BioturbationScene& scene);

/// A mean day, as one event for each cell of the territory: masses sum to lifted_kg_d, times are
/// not used. Empty when it has no open sand.
std::vector<BioturbationEvent> mean_bioturbation(const Territory& territory,
                                                 const BioturbationScene& scene);

/// Deposit of one event on a receptor [kg/m2]; 0 at or above the lift height.
double deposit_kg_m2(const BioturbationEvent& event, const SandReceptor& receptor,
                     const Tank& tank);

}  // namespace bedshade
