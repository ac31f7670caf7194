// The light of a living reef: shapes of the day into the scene, light out of it.
//
// Light is traced for shapes that may be a little behind the reef (LightState): a colony's occluder
// is drawn anew when its outline or height has moved by more than 0.7 mm, its receivers when they
// have moved by more than 3 mm: far less than light changes over, and most days most colonies need
// neither. Diffuse light goes through a coarser scene, taken anew when any colony has grown by 4 mm
// or walked far.
#pragma once

#include <span>
#include <vector>

#include "model/growth/forms.h"
#include "model/growth/light_day.h"
#include "model/light/light_field.h"
#include "model/light/radiosity.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

/// The bed's receptor grid: cells of 2.5 cm, or larger where that would make more than 40,000.
BedGrid bed_grid_of(const Tank& tank);

/// The reef on the day it is set up, without its light. Acclimation is left at the middle of each
/// taxon's range, to be set from the light that is found.
Reef baseline_reef(const Layout& layout);

/// The day of all lamps.
LightDay light_day_of(const Layout& layout);

/// A colony as light meets it.
ColonyInLight in_light(const Layout& layout, std::size_t colony, const ColonyState& state);

/// Light of all lamps together at each place, from [place][lamp].
std::vector<double> summed_over_lamps(const std::vector<double>& by_lamp, std::size_t places);

/// Light on a reef on a day.
struct ReefLightObservation {
    std::vector<double> bed;            ///< plateau light of each lamp, [y][x][lamp] [umol m-2 s-1]
    std::vector<ColonyLight> colonies;  ///< of every present colony; absent ones have no patches
    LightState state;                   ///< diffuse light and traced shapes
    LampsToday today;
    Exitance exitance;
};

/// The light model of a tank. What it returns depends on its arguments only: scene, visibility and
/// links are kept between calls, and brought to the state that a call asks for.
class ReefLight {
  public:
    /// `output_scale` multiplies every lamp (from meter readings; 1 without). `full` traces
    /// everything anew each time: the same bits, slowly, to check the incremental tracing by.
    ReefLight(const Layout& layout, double output_scale, bool full = false);

    /// Light of the reef as it was set up, iterated from darkness.
    ReefLightObservation baseline(const ParallelFor& parallel = run_serially);

    /// Light of the reef on its day, iterated from its own LightState.
    ReefLightObservation observe(const Reef& reef, const ParallelFor& parallel = run_serially);

    /// Plateau light of each lamp at points of a reef whose light has been observed, [point][lamp]
    /// [umol m-2 s-1]. Several threads may ask at once for the light that was observed last.
    std::vector<double> points(const ReefLightObservation& light,
                               std::span<const LightReceptor> receptors);

    const BedGrid& grid() const { return grid_; }
    /// The patches that a colony's light was last observed on, with their areas.
    const std::vector<LightReceptor>& receptors(std::size_t colony) const {
        return field_.receptors(static_cast<int>(colony));
    }
    std::size_t lamp_count() const { return field_.lamp_count(); }
    std::size_t path_count() const { return field_.path_count(); }

  private:
    void place_occluder(std::size_t colony, const TracedShape& shape);
    void place_receiver(std::size_t colony, const TracedShape& shape);
    void place_diffuse(std::size_t colony, const TracedShape& shape);
    bool stands_as(const LightState& state) const;
    void bring_to(const LightState& state, const ParallelFor& parallel);

    const Layout& layout_;
    double output_scale_;
    bool full_;
    BedGrid grid_;
    Radiosity radiosity_;
    LightField field_;
    std::vector<ColonyLightState> placed_;  // by colony: the shapes of the scene as it stands
    bool traced_ = false;
};

}  // namespace bedshade
