#include "sim/advice/site.h"

#include <algorithm>
#include <cmath>

#include "model/contact/separation.h"

namespace bedshade {
namespace {

/// In plan, from a site to a box.
double to_box_m(const Vec2& site_m, const Box& box) {
    const Vec2 low = box.min.head<2>(), high = box.max.head<2>();
    return (site_m - site_m.cwiseMax(low).cwiseMin(high)).norm();
}

SiteNeighbour::Then seen_from(const Vec2& site_m, const std::optional<NeighbourThen>& colony,
                              double search_radius_m) {
    SiteNeighbour::Then then;
    if (!colony) return then;
    then.lives = true;
    const ColonyBody& body = colony->body;
    then.away_m = to_box_m(site_m, body.bounds());
    if (then.away_m >= search_radius_m) return then;
    const double rim_z_m = body.base_m().z() + body.profile().rim_z_m;
    const Vec2 plan = body.to_upright_m(Vec3(site_m.x(), site_m.y(), rim_z_m)).head<2>();
    const double s = body.relative_radius(plan);
    if (s <= 1.0) {
        const VerticalSpan span = span_at(body.profile(), s);
        then.away_m = 0.0;
        then.low_m = body.base_m().z() + span.low_m;
        then.high_m = body.base_m().z() + span.high_m;
    } else {
        then.away_m = plan.norm() * (1.0 - 1.0 / s);
        then.low_m = colony->low_m;
        then.high_m = colony->high_m;
    }
    return then;
}

}  // namespace

Site site_of(const BedForecast& bed, const Vec2& at_m, double search_radius_m) {
    const Tank& tank = bed.layout().tank;
    Site site;
    site.cell = bed.grid().index(bed.grid().column_at(at_m.x()), bed.grid().row_at(at_m.y()));
    site.at_m = at_m;
    site.grain_m = bed.layout().substrate.grain_at_m(site.at_m);
    site.to_glass_m = std::min({site.at_m.x(), site.at_m.y(), tank.length_m - site.at_m.x(),
                                tank.width_m - site.at_m.y()});
    for (std::size_t c = 0; c < bed.layout().colonies.size(); ++c) {
        SiteNeighbour neighbour;
        neighbour.colony = static_cast<int>(c);
        bool near = false;
        for (const BedDay& day : bed.days()) {
            neighbour.days.push_back(seen_from(site.at_m, day.colonies[c], search_radius_m));
            near = near ||
                   (neighbour.days.back().lives && neighbour.days.back().away_m < search_radius_m);
        }
        if (near) site.neighbours.push_back(std::move(neighbour));
    }
    return site;
}

double gap_m(const SiteNeighbour::Then& then, double radius_m, double low_m, double high_m) {
    const double beside_m = std::max(then.away_m - radius_m, 0.0);
    const double upright_m = std::max({then.low_m - high_m, low_m - then.high_m, 0.0});
    return std::hypot(beside_m, upright_m);
}

double rock_over_m(const BedForecast& bed, const Site& site, double radius_m) {
    const BedGrid& grid = bed.grid();
    double over_m = bed.rock_over_m(site.cell);
    const int left = grid.column_at(std::max(site.at_m.x() - radius_m, 0.0));
    const int right = grid.column_at(site.at_m.x() + radius_m);
    const int front = grid.row_at(std::max(site.at_m.y() - radius_m, 0.0));
    const int back = grid.row_at(site.at_m.y() + radius_m);
    for (int j = front; j <= back; ++j)
        for (int i = left; i <= right; ++i)
            if ((bed.site_m(grid.index(i, j)) - site.at_m).norm() <= radius_m)
                over_m = std::min(over_m, bed.rock_over_m(grid.index(i, j)));
    return over_m;
}

}  // namespace bedshade
