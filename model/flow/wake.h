// What corals leave of the flow behind them.
//
// The tank's field is solved without corals, so that it need not be solved again when they grow.
// Each coral is a body with a wake: behind it the speed is short by a share that fades with the
// distance and to the sides. Its three constants were chosen by two beds solved with such bodies as
// rock (tests/cases/wake.h): there it takes a quarter of the error of leaving corals out, on a
// third bed a twelfth. What it tells near corals stays uncertain by a factor of 1.2 to 1.4. It has
// not: water that goes faster round and over a body, and the slowing of a whole bed that is full of
// them.
#pragma once

#include <vector>

#include "model/reef/carry_over.h"

namespace bedshade {

/// Share of the speed that a body leaves at a point in flow along `heading` (a level unit vector):
/// 1 before, beside and above it [1].
double wake_share(const FlowBody& body, const Vec3& at_m, const Vec2& heading);

/// Share that all bodies but the one numbered `self` (-1: none is left out) leave together; 1 where
/// the flow has no level direction.
double wake_factor(const std::vector<FlowBody>& bodies, int self, const Vec3& at_m,
                   const Vec3& velocity_m_s);

}  // namespace bedshade
