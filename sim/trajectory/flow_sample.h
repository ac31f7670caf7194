// The water's flow sampled for a trajectory.
#pragma once

#include "model/flow/flow_field.h"
#include "model/reef/tank.h"

#include "sim/trajectory/run_provenance.h"

namespace bedshade {

/// Mean velocity and the speed of what has no mean, on points about 5 cm apart (at most 40 on a
/// side), for every setting of the pumps.
FlowSample flow_sample(const Tank& tank, const FlowField& flow);

}  // namespace bedshade
