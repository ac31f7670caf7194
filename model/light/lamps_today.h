// The lamps on one day: output, hours, and attenuation of their spectra by the water of the day.
#pragma once

#include <vector>

#include "model/light/water_optics.h"
#include "model/reef/layout.h"

namespace bedshade {

/// The lamps on one day.
struct LampsToday {
    struct Lamp {
        double scale = 0.0;  ///< fraction of full photon flux
        double plateau_hours = 0.0;
        Attenuation water;
    };
    std::vector<Lamp> lamps;
};

/// The lamps `day_d` after the start of the run. `output_scale` multiplies every lamp (from meter
/// readings).
LampsToday lamps_on(const Layout& layout, double day_d, double output_scale);

}  // namespace bedshade
