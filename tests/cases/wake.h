// Corals as solid bodies in the solver, against the wake model.
#pragma once

namespace bedshade::cases {

/// Root mean square of ln(speed with solid bodies / modelled speed) over points around each body,
/// up to 1.6 of its height, from 1.5 diameters upstream to 5 downstream.
struct WakeError {
    double left_out = 0.0;   ///< modelled by the field without bodies
    double with_wake = 0.0;  ///< modelled by that field times wake_factor
};

/// Arrangements of domes of 10 to 18 cm on a bed: two to which the constants of the wake model were
/// fitted, and one independent.
enum class WakeBed { one_low_pump, crossed_pumps, not_fitted };

/// Solves the bed twice on cells of 3 cm.
WakeError wake_error(WakeBed bed);

}  // namespace bedshade::cases
