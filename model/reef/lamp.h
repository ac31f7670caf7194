// A lamp above the water: position, photon flux, beam, spectrum and daily schedule.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "model/base/geometry.h"
#include "model/reef/photometric_web.h"

namespace bedshade {

enum class LampShape { point, rectangle, disc };

/// One part of a lamp's spectrum: a narrow emitter, or a phosphor white of a colour temperature.
struct SpectrumPart {
    double peak_nm = 0.0;               ///< 0 for a white
    double colour_temperature_K = 0.0;  ///< 0 for a narrow emitter
    double share = 0.0;                 ///< of the photon flux in 400-700 nm [1]
};

/// A tabulated spectrum: relative photon flux at each wavelength, rising in wavelength.
struct SpectrumTable {
    std::vector<double> wavelength_nm;
    std::vector<double> photons;
};

/// Daily schedule as a trapezoid: ramp up over `ramp_h`, plateau, ramp down over `ramp_h`.
struct LampDay {
    double on_h = 10.0;
    double off_h = 20.0;
    double ramp_h = 0.0;  ///< lies inside on-off

    /// Fraction of the plateau output at an hour of the day, 0 to 24 [1].
    double share_at(double hour) const {
        if (hour <= on_h || hour >= off_h) return 0.0;
        if (ramp_h <= 0.0) return 1.0;
        const double up = (hour - on_h) / ramp_h;
        const double down = (off_h - hour) / ramp_h;
        const double share = up < down ? up : down;
        return share < 1.0 ? share : 1.0;
    }
    /// Hours at plateau that give the same photons as the whole day [h].
    double plateau_hours() const { return off_h - on_h - ramp_h; }
};

struct Lamp {
    std::string name;
    Vec3 centre_m = Vec3::Zero();  ///< of the emitting face; z from the sand surface
    LampShape shape = LampShape::point;
    Vec2 size_m = Vec2::Zero();       ///< sides along x and y; for a disc both hold the diameter
    double photon_flux_umol_s = 0.0;  ///< 400-700 nm at full output
    double output = 1.0;              ///< fraction of full output [1]
    double beam_exponent = 1.0;       ///< intensity ~ cos^m of the angle from the axis
    std::shared_ptr<const PhotometricWeb> web;  ///< a measured beam, instead of the exponent
    double tilt_rad = 0.0;                      ///< of the axis from straight down
    double azimuth_rad = 0.0;  ///< direction toward which it is tilted; rotates the face too
    std::vector<SpectrumPart> spectrum;  ///< empty, without a table: flat photon spectrum
    std::optional<SpectrumTable> spectrum_table;
    LampDay day;
    double ageing_per_year = 0.0;  ///< fraction of output lost per year [1]
};

}  // namespace bedshade
