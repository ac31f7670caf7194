// The dry rim: panes of glass above the water that reflect lamp light before it reaches the
// surface.
//
// By the method of images (model/light/mirror_images.h): light reflected by a dry pane continues
// straight into the next image of the tank, where it meets the surface. Light of a lamp that
// extends past the glass may also enter through a pane from outside.
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

    /// The image cell in which a point of the tiled surface lies. Light reflected by more than one
    /// dry pane along an axis is neglected (two panes in air reflect a twelfth of it, or less,
    /// except at grazing angles), so a point beyond the neighbouring cell has none.
    std::optional<ImageCell> image_cell_at(const Vec3& crossing_m) const;

    /// Largest distance outside the opening at which light reflected by a dry pane can meet the
    /// surface. No part of the lamp is lower than `height_m` above the water or farther than
    /// `across_m` from the far side of the tank [m].
    double reach_m(double height_m, double across_m) const;

    /// Whether the dry part of a side reflects specularly. Algae grow under water only, so a
    /// coralline side is glass above the water.
    bool mirrors(Side side) const {
        return pane_index_[static_cast<std::size_t>(side)].has_value();
    }

    /// Transmittance of the straight path from `source_m` to `crossing_m` on the surface in `cell`:
    /// light that enters over the rim passes the cover, light that enters through a pane does not,
    /// and light that leaves over the rim is lost.
    double transmittance(const Vec3& source_m, const Vec3& crossing_m, ImageCell cell) const;

  private:
    struct TankSegment;
    TankSegment segment_over_tank(const Vec3& source_m, const Vec3& ray) const;
    double reflectance_at(const Vec3& direction, Side side) const;

    Tank tank_;
    PaneIndices pane_index_;
};

}  // namespace bedshade
