#include "model/light/dry_rim.h"

#include <algorithm>
#include <cmath>

#include "model/light/fresnel.h"

namespace bedshade {
namespace {

constexpr std::array kSides = {Side::front, Side::back, Side::left, Side::right};

/// Step to the neighbouring image cell in which a coordinate lies; 0 inside the tank itself.
int neighbour_step(double x, double side_m) { return x < 0.0 ? -1 : x > side_m ? 1 : 0; }

}  // namespace

/// The part of a ray that lies over the tank, as fractions of its length, and the side by which it
/// entered.
struct DryRim::TankSegment {
    double from = 0.0, to = 1.0;
    Side entry_side = Side::left;
};

DryRim::DryRim(const Tank& tank) : tank_(tank) {
    for (const Side side : kSides) {
        Wall wall = tank.wall(side);
        if (wall.kind == WallKind::coralline) wall.kind = WallKind::glass;
        pane_index_[static_cast<std::size_t>(side)] = pane_index(wall);
    }
}

std::optional<ImageCell> DryRim::image_cell_at(const Vec3& at) const {
    const ImageCell cell{neighbour_step(at.x(), tank_.length_m),
                         neighbour_step(at.y(), tank_.width_m)};
    if (cell.reflections() > 0 && tank_.rim_m <= 0.0) return {};
    const bool next = std::abs(at.x() - 0.5 * tank_.length_m) <= 1.5 * tank_.length_m &&
                      std::abs(at.y() - 0.5 * tank_.width_m) <= 1.5 * tank_.width_m;
    return next ? std::optional(cell) : std::nullopt;
}

double DryRim::reach_m(double height_m, double across_m) const {
    if (tank_.rim_m <= 0.0) return 0.0;
    const double next_tank_m = std::hypot(tank_.length_m, tank_.width_m);
    if (height_m <= tank_.rim_m) return next_tank_m;
    // The ray that meets the pane highest travels farthest before it reaches the water.
    return std::min(next_tank_m, tank_.rim_m * across_m / (height_m - tank_.rim_m));
}

DryRim::TankSegment DryRim::segment_over_tank(const Vec3& source, const Vec3& ray) const {
    TankSegment segment;
    const auto cut = [&](int axis, double side_m, Side low, Side high) {
        if (ray[axis] == 0.0) {
            if (source[axis] < 0.0 || source[axis] > side_m) segment.to = -1.0;
            return;
        }
        const double at_low = -source[axis] / ray[axis];
        const double at_high = (side_m - source[axis]) / ray[axis];
        const double in = std::min(at_low, at_high);
        if (in > segment.from) {
            segment.from = in;
            segment.entry_side = ray[axis] > 0.0 ? low : high;
        }
        segment.to = std::min(segment.to, std::max(at_low, at_high));
    };
    cut(0, tank_.length_m, Side::left, Side::right);
    cut(1, tank_.width_m, Side::front, Side::back);
    return segment;
}

double DryRim::reflectance_at(const Vec3& direction, Side side) const {
    const bool along_x = side == Side::left || side == Side::right;
    const double cosine = std::abs(along_x ? direction.x() : direction.y());
    return pane_reflectance(cosine, {1.0, *pane_index_[static_cast<std::size_t>(side)]});
}

double DryRim::transmittance(const Vec3& source, const Vec3& crossing, ImageCell cell) const {
    const Vec3 ray = crossing - source;
    // A sensor in the air is reached straight from the lamp.
    if (ray.isZero()) return cell.reflections() == 0 ? tank_.cover_transmittance : 0.0;
    const TankSegment segment = segment_over_tank(source, ray);
    if (segment.from > segment.to) return 0.0;
    if (segment.from <= 0.0 && cell.reflections() == 0) return tank_.cover_transmittance;
    const Vec3 direction = ray.normalized();
    const auto height_m = [&](double part) { return (1.0 - part) * -ray.z(); };
    double transmitted = tank_.cover_transmittance;
    if (segment.from > 0.0 && height_m(segment.from) < tank_.rim_m) {
        if (!mirrors(segment.entry_side)) return 0.0;
        transmitted = 1.0 - reflectance_at(direction, segment.entry_side);
    }
    if (cell.reflections() > 0 && height_m(segment.to) >= tank_.rim_m) return 0.0;
    for (const Side side :
         {cell.i > 0 ? Side::right : Side::left, cell.j > 0 ? Side::back : Side::front}) {
        const bool along_x = side == Side::left || side == Side::right;
        if ((along_x ? cell.i : cell.j) == 0) continue;
        if (!mirrors(side)) return 0.0;
        transmitted *= reflectance_at(direction, side);
    }
    return transmitted;
}

}  // namespace bedshade
