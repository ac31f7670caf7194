#include "model/light/dry_rim.h"

#include <algorithm>
#include <cmath>

#include "model/light/fresnel.h"

namespace bedshade {
namespace {

constexpr std::array kSides = {Side::front, Side::back, Side::left, Side::right};

/// The next tank's side where a point lies past this one's, 0 within.
int step_past(double x, double side_m) { return x < 0.0 ? -1 : x > side_m ? 1 : 0; }

}  // namespace

/// The part of a way, as shares of its length, that lies over the tank, and the side it came by.
struct DryRim::Stay {
    double from = 0.0, to = 1.0;
    Side in_by = Side::left;
};

DryRim::DryRim(const Tank& tank) : tank_(tank) {
    for (const Side side : kSides) {
        Wall wall = tank.wall(side);
        if (wall.kind == WallKind::coralline) wall.kind = WallKind::glass;
        pane_index_[static_cast<std::size_t>(side)] = pane_index(wall);
    }
}

std::optional<ImageCell> DryRim::cell_of(const Vec3& at) const {
    const ImageCell cell{step_past(at.x(), tank_.length_m), step_past(at.y(), tank_.width_m)};
    if (cell.bounces() > 0 && tank_.rim_m <= 0.0) return {};
    const bool next = std::abs(at.x() - 0.5 * tank_.length_m) <= 1.5 * tank_.length_m &&
                      std::abs(at.y() - 0.5 * tank_.width_m) <= 1.5 * tank_.width_m;
    return next ? std::optional(cell) : std::nullopt;
}

double DryRim::reach_m(double height_m, double across_m) const {
    if (tank_.rim_m <= 0.0) return 0.0;
    const double next_tank_m = std::hypot(tank_.length_m, tank_.width_m);
    if (height_m <= tank_.rim_m) return next_tank_m;
    // The way that meets the pane highest goes on farthest before it is down at the water.
    return std::min(next_tank_m, tank_.rim_m * across_m / (height_m - tank_.rim_m));
}

DryRim::Stay DryRim::over_tank(const Vec3& source, const Vec3& way) const {
    Stay stay;
    const auto cut = [&](int axis, double side_m, Side low, Side high) {
        if (way[axis] == 0.0) {
            if (source[axis] < 0.0 || source[axis] > side_m) stay.to = -1.0;
            return;
        }
        const double at_low = -source[axis] / way[axis];
        const double at_high = (side_m - source[axis]) / way[axis];
        const double in = std::min(at_low, at_high);
        if (in > stay.from) {
            stay.from = in;
            stay.in_by = way[axis] > 0.0 ? low : high;
        }
        stay.to = std::min(stay.to, std::max(at_low, at_high));
    };
    cut(0, tank_.length_m, Side::left, Side::right);
    cut(1, tank_.width_m, Side::front, Side::back);
    return stay;
}

double DryRim::turned_back(const Vec3& direction, Side side) const {
    const bool along_x = side == Side::left || side == Side::right;
    const double cosine = std::abs(along_x ? direction.x() : direction.y());
    return pane_reflectance(cosine, {1.0, *pane_index_[static_cast<std::size_t>(side)]});
}

double DryRim::share(const Vec3& source, const Vec3& crossing, ImageCell cell) const {
    const Vec3 way = crossing - source;
    // A sensor in the air is reached straight from the lamp.
    if (way.isZero()) return cell.bounces() == 0 ? tank_.cover_transmittance : 0.0;
    const Stay stay = over_tank(source, way);
    if (stay.from > stay.to) return 0.0;
    if (stay.from <= 0.0 && cell.bounces() == 0) return tank_.cover_transmittance;
    const Vec3 direction = way.normalized();
    const auto height_m = [&](double part) { return (1.0 - part) * -way.z(); };
    double left = tank_.cover_transmittance;
    if (stay.from > 0.0 && height_m(stay.from) < tank_.rim_m) {
        if (!mirrors(stay.in_by)) return 0.0;
        left = 1.0 - turned_back(direction, stay.in_by);
    }
    if (cell.bounces() > 0 && height_m(stay.to) >= tank_.rim_m) return 0.0;
    for (const Side side :
         {cell.i > 0 ? Side::right : Side::left, cell.j > 0 ? Side::back : Side::front}) {
        const bool along_x = side == Side::left || side == Side::right;
        if ((along_x ? cell.i : cell.j) == 0) continue;
        if (!mirrors(side)) return 0.0;
        left *= turned_back(direction, side);
    }
    return left;
}

}  // namespace bedshade
