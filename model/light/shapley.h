// Shapley attribution of the light that several colonies take together.
#pragma once

#include <cstddef>

namespace bedshade {

/// Splits the light lost on one path among the `count` colonies on it, by the Shapley value: the
/// marginal loss caused by each, averaged over all orders in which they could be added. Opaque
/// colonies get equal shares; beside a porous colony an opaque one gets the larger share.
///
/// `transmittance[i]` is that of colony i alone [0, 1] (0: opaque); `share[i]` receives its share.
/// The shares sum to 1 - (product of all transmittances), to rounding.
///
/// Source: Shapley 1953 for the value; evaluated through the multilinear extension (Owen 1972),
/// share_i = (1-t_i) * integral over u in [0,1] of product_{j != i} (1 - u (1-t_j)), by
/// Gauss-Legendre quadrature, which is exact here for up to 16 colonies; beyond that, the shares
/// are scaled to the sum.
void shapley_shares(const double* transmittance, double* share, std::size_t count);

}  // namespace bedshade
