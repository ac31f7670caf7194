// The light field of a living reef: shapes of the day into the scene, receptors out of them.
#pragma once

#include <vector>

#include "model/growth/forms.h"
#include "model/light/light_field.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

/// The bed's receptor grid: cells of 2.5 cm, or larger where that would make more than 40,000.
BedGrid bed_grid_of(const Tank& tank);

/// The reef on the day it is set up. Acclimation is left at the middle of each taxon's range, for
/// the season to set from the light it finds.
Reef reef_as_set(const Layout& layout);

class ReefLight {
  public:
    /// `output_scale` multiplies every lamp (from meter readings; 1 without).
    ReefLight(const Layout& layout, const Reef& as_set, double output_scale);

    /// Puts the colonies of the day into the scene and turns lamps and water to that day.
    void follow(const Reef& reef);

    /// Plateau light of each lamp on the bed, [y][x][lamp] [umol m-2 s-1].
    std::vector<double> bed(const ParallelFor& parallel) const;
    /// Light on every present colony, in colony order; absent ones have empty patches.
    std::vector<ColonyLight> colonies(const ParallelFor& parallel) const;
    /// Plateau light of each lamp at points, [point][lamp] [umol m-2 s-1].
    std::vector<double> points(std::span<const LightReceptor> receptors) const;

    const BedGrid& grid() const { return grid_; }
    const std::vector<ColonyReceptors>& receptors() const { return receptors_; }
    std::size_t lamp_count() const { return field_.lamp_count(); }

  private:
    void place(Canopy& canopy, const Reef& reef) const;

    const Layout& layout_;
    double output_scale_;
    BedGrid grid_;
    LightField field_;
    LampsToday today_;
    std::vector<ColonyReceptors> receptors_;  // by colony
};

}  // namespace bedshade
