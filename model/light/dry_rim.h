// The dry glass above the water, and what it does to light on its way from a lamp to the surface.
//
// Unfolded as in model/light/mirror_images.h: light off a dry pane runs straight on into the next
// mirrored tank, where it meets the surface. Light from a lamp that reaches out past the glass may
// also come in through a pane, from outside.
#pragma once

#include <optional>

#include "model/base/geometry.h"
#include "model/light/image_cell.h"
#include "model/light/refractive_index.h"
#include "model/reef/tank.h"

namespace bedshade {

class DryRim {
  public:
    explicit DryRim(const Tank& tank);

    /// The mirrored tank in which a point of the unfolded surface lies. Light off more than one dry
    /// pane along an axis is left out (two panes in air keep a twelfth of it, or less, unless it
    /// grazes them); a point farther away than the next tank has none.
    std::optional<ImageCell> cell_of(const Vec3& crossing_m) const;

    /// How far past the opening light off a dry pane can meet the surface, from a lamp no part of
    /// which is lower than `height_m` above the water nor farther than `across_m` from the far
    /// side of the tank [m].
    double reach_m(double height_m, double across_m) const;

    /// Whether a side's dry part mirrors. Algae grow under water only: coralline has glass above.
    bool mirrors(Side side) const {
        return pane_index_[static_cast<std::size_t>(side)].has_value();
    }

    /// Share of light left on the straight way from `source_m` to `crossing_m` on the surface in
    /// `cell`: what comes in over the rim passes the cover, what comes in through a pane does not;
    /// what passes over the rim on its way out is gone.
    double share(const Vec3& source_m, const Vec3& crossing_m, ImageCell cell) const;

  private:
    struct Stay;
    Stay over_tank(const Vec3& source_m, const Vec3& way) const;
    double turned_back(const Vec3& direction, Side side) const;

    Tank tank_;
    PaneIndices pane_index_;
};

}  // namespace bedshade
