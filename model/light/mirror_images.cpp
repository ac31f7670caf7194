#include "model/light/mirror_images.h"

#include <algorithm>
#include <limits>

#include "model/light/dry_rim.h"
#include "model/light/fresnel.h"
#include "model/light/refractive_index.h"

namespace bedshade {
namespace {

/// Tangent of the critical angle; light in water of index 1 can come from anywhere.
double steepest_tangent(double water_index) {
    if (water_index <= 1.0) return std::numeric_limits<double>::infinity();
    return 1.0 / std::sqrt(water_index * water_index - 1.0);
}

}  // namespace

MirrorImages::MirrorImages(const Tank& tank, double water_index, double dry_reach_m)
    : length_m_(tank.length_m),
      width_m_(tank.width_m),
      water_index_(water_index),
      dry_reach_m_(dry_reach_m),
      reach_per_depth_(steepest_tangent(water_index)),
      pane_index_(pane_indices(tank)) {
    const double reach = reach_per_depth_ * tank.water_depth_m + dry_reach_m;
    const DryRim rim(tank);
    const auto cell_limit = [&](double side) {
        const double cells = std::ceil(reach / side);
        return static_cast<int>(std::min<double>(cells, kMaxCells));
    };
    const auto is_mirror = [&](Side side) {
        return pane_index_[static_cast<std::size_t>(side)].has_value();
    };
    // The first reflection may be above the water, where a side overgrown below is glass.
    const auto is_first_mirror = [&](Side side) {
        return is_mirror(side) || (dry_reach_m > 0.0 && rim.mirrors(side));
    };
    const auto mirrors = [&](Side one, Side other, int times) {
        if (times > 2 && !is_mirror(one)) return false;
        return times == 0 || (is_first_mirror(one) && (times == 1 || is_mirror(other)));
    };
    for (int i = -cell_limit(length_m_); i <= cell_limit(length_m_); ++i)
        for (int j = -cell_limit(width_m_); j <= cell_limit(width_m_); ++j) {
            const bool along_x =
                i > 0 ? mirrors(Side::right, Side::left, i) : mirrors(Side::left, Side::right, -i);
            const bool along_y =
                j > 0 ? mirrors(Side::back, Side::front, j) : mirrors(Side::front, Side::back, -j);
            if (along_x && along_y) cells_.push_back({i, j});
        }
    std::stable_sort(cells_.begin(), cells_.end(),
                     [](Cell a, Cell b) { return a.reflections() < b.reflections(); });
}

bool MirrorImages::in_reach(const Vec3& image, double depth_m) const {
    const double outside_x = std::max({0.0, -image.x(), image.x() - length_m_});
    const double outside_y = std::max({0.0, -image.y(), image.y() - width_m_});
    return std::hypot(outside_x, outside_y) <= reach_per_depth_ * depth_m + dry_reach_m_;
}

double MirrorImages::side_reflectance(double cosine, Side side, int times) const {
    if (times == 0) return 1.0;
    const auto& pane = pane_index_[static_cast<std::size_t>(side)];
    if (!pane) return 0.0;
    return std::pow(pane_reflectance(std::abs(cosine), {water_index_, *pane}), times);
}

double MirrorImages::reflectance(const Vec3& direction, Cell cell, Cell dry) const {
    const auto along = [&](double cosine, int cells, int dry_cells, Side high, Side low) {
        const int times = std::abs(cells);
        const Side first = cells > 0 ? high : low;
        const Side second = cells > 0 ? low : high;
        return side_reflectance(cosine, first, (times + 1) / 2 - std::abs(dry_cells)) *
               side_reflectance(cosine, second, times / 2);
    };
    return along(direction.x(), cell.i, dry.i, Side::right, Side::left) *
           along(direction.y(), cell.j, dry.j, Side::back, Side::front);
}

}  // namespace bedshade
