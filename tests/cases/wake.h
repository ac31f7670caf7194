// Corals as bodies in a solved field, beside the lee that the program gives them.
#pragma once

namespace bedshade::cases {

/// Root mean squares of ln(speed with the bodies in the solve / speed told), over points about each
/// body up to 1.6 of its height, 1.5 diameters before it to 5 behind.
struct LeeError {
    double left_out = 0.0;  ///< told: the field without bodies
    double with_lee = 0.0;  ///< told: that times wake_factor
};

/// Arrangements of domes of 10 to 18 cm on a bed: two that the lee's constants were chosen by, and
/// one that they were not.
enum class LeeBed { one_low_pump, crossed_pumps, not_fitted };

/// Solves the bed twice on cells of 3 cm.
LeeError lee_error(LeeBed bed);

}  // namespace bedshade::cases
