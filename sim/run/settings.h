// What the keeper sets anew of lamps, pumps and water, put into force on its day.
#pragma once

#include "model/reef/layout.h"

namespace bedshade {

/// What a change of settings leaves to be found anew.
struct Invalidated {
    bool lamp_places = false;  ///< paths of light
    bool lamp_hours = false;   ///< the day of light
    bool flow = false;         ///< and with it sand
    bool suspended = false;    ///< sand alone
};

/// Puts what is set on `day_d` into `in_force`, in the layout's order. Everything it names is
/// there.
Invalidated apply_settings(double day_d, Layout& in_force);

}  // namespace bedshade
