// Wakes of corals: reduction of the flow speed behind them (sheltering).
//
//   u/u0 = 1 - C g(z/h) exp(-x/L - (y/b)^2),   b = 1/2 + S x
//
// x: distance downstream of the coral's axis, y: lateral distance, both in its diameters; z/h:
// height over that of the coral, g = 1 up to 0.6, 0 from 1.2; C = 0.4, L = 3, S = 0.15.
//
// The flow is solved without corals, so that it need not be solved again when they grow. The three
// constants were fitted to two beds solved with corals as solid bodies (tests/cases/wake.h): there
// the wakes remove a quarter of the error of neglecting corals, on a third bed a twelfth. Near
// corals the speed stays uncertain by a factor of 1.2 to 1.4. Not modelled: faster flow around and
// over a body, and the drag of a whole bed full of corals.
#pragma once

#include <vector>

#include "model/reef/carry_over.h"

namespace bedshade {

/// Share of the speed that a body leaves at a point in flow along `flow_direction` (a level unit
/// vector): 1 before, beside and above it [1].
double wake_share(const FlowBody& body, const Vec3& at_m, const Vec2& flow_direction);

/// Product of u/u0 over all bodies except `self` (-1: all); 1 where the flow has no horizontal
/// direction.
double wake_factor(const std::vector<FlowBody>& bodies, int self, const Vec3& at_m,
                   const Vec3& velocity_m_s);

}  // namespace bedshade
