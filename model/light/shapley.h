// Who is to blame for light that several colonies take together.
#pragma once

#include <cstddef>

namespace bedshade {

/// Splits the light lost on one path among the `count` colonies that stand in it, by the Shapley
/// value: what each takes, averaged over all orders in which they could have been put there. Opaque
/// ones share equally; with a porous one beside an opaque one the opaque one is blamed for more.
///
/// `transmittance[i]` is what colony i alone lets through [0, 1] (0: opaque); `share[i]` receives
/// its part. The parts sum to 1 - (product of all transmittances), to rounding.
///
/// Source: Shapley 1953 for the value; evaluated through the multilinear extension (Owen 1972),
/// share_i = (1-t_i) * integral over u in [0,1] of product_{j != i} (1 - u (1-t_j)), by
/// Gauss-Legendre quadrature, which is exact here for up to 16 colonies; beyond, the parts are
/// scaled to the sum.
void shapley_shares(const double* transmittance, double* share, std::size_t count);

}  // namespace bedshade
