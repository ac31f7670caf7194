// The sand that a step brings to one colony, and from whom.
#pragma once

#include <vector>

#include "model/flow/wake.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"
#include "model/sediment/bed_sand.h"

#include "sim/run/colony_observation.h"

namespace bedshade {

/// Sand on a colony in [from_d, to_d); for an empty stretch, of a mean day. `lee` is the share of
/// the flow that its neighbours leave it.
ColonySand colony_sand(const BedSand& plan, const Taxon& taxon, const ColonyState& state,
                       double wake, const std::vector<BioturbationEvent>& events, double from_d,
                       double to_d);

/// Where a colony's flow is read and its sand falls: its top.
Vec3 top_of(const ColonyState& state);

/// What stands in the flow today, by colony; those that are not there have no size.
std::vector<FlowBody> flow_bodies(const Reef& reef);

/// Whether bodies stand as others did, to within 1 cm: nothing the lee's own doubt would notice.
bool similar_bodies(const std::vector<FlowBody>& some, const std::vector<FlowBody>& others);

}  // namespace bedshade
