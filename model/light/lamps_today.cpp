#include "model/light/lamps_today.h"

#include "model/light/emitter.h"
#include "model/light/spectrum.h"

namespace bedshade {
namespace {

/// Fraction of full output that leaves the lamp on a day, from its setting and its age.
double output_fraction(const Lamp& lamp, double day_d) {
    return lamp.photon_flux_umol_s > 0.0 ? photon_flux_umol_s(lamp, day_d) / lamp.photon_flux_umol_s
                                         : 0.0;
}

}  // namespace

LampsToday lamps_on(const Layout& layout, double day_d, double output_scale) {
    const Water water = water_on(layout.water, day_d);
    LampsToday today;
    for (const Lamp& lamp : layout.lamps)
        today.lamps.push_back({output_scale * output_fraction(lamp, day_d),
                               lamp.day.plateau_hours(), Attenuation(spectrum_of(lamp), water)});
    return today;
}

}  // namespace bedshade
