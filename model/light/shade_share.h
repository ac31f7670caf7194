// Attenuation by one neighbour: the share of a colony's light that it takes (Shapley attribution,
// model/light/shapley.h).
#pragma once

namespace bedshade {

/// The fraction of a colony's light that one neighbour takes.
struct ShadeShare {
    int colony = -1;     ///< index into Layout::colonies
    double share = 0.0;  ///< of the light with no other colony in the tank [0, 1]
};

}  // namespace bedshade
