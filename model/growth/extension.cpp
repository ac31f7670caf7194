#include "model/growth/extension.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "model/base/days.h"

namespace bedshade {
namespace {

constexpr double kStep_m = 0.005;         ///< largest distance between tests for obstacles
constexpr double kFollowedStep_m = 0.03;  ///< step in a rock that a sheet can follow
constexpr double kBurialDepth_m = 0.001;  ///< depth under the sand at which a tilted rim stops
constexpr double kRimShare =
    0.85;  ///< parts of the profile beyond this radius fraction are the rim
constexpr double kCeilingShare = 0.95;  ///< radius fraction at which the top is tested

bool spreads_as_sheet(Form form) { return form == Form::encrusting || form == Form::mat; }

bool crosses_sand(const Taxon& taxon, double grain_m) {
    if (taxon.spread_grain_high_m <= 0.0) return taxon.spreads_on != SpreadsOn::rock;
    return grain_m >= taxon.spread_grain_low_m && grain_m <= taxon.spread_grain_high_m;
}

/// Obstacle tests for the growth of one colony.
class GrowthProbe {
  public:
    GrowthProbe(const Surroundings& around, int colony, const ColonyState& state, double reach_m)
        : around_(around),
          layout_(around.layout()),
          colony_(layout_.colonies[static_cast<std::size_t>(colony)]),
          taxon_(layout_.taxon_of(colony_)),
          shape_(shape_of(taxon_, colony_, state)),
          lean_(lean_of(shape_)),
          profile_(profile_of(shape_.form, shape_.height_m)),
          own_rock_(around.rock_under(colony_, shape_.base_m)) {
        const Box box = grown(bounds_of(shape_), reach_m + kColonyGap_m);
        colonies_ = around.colonies_near(box);
        colonies_.erase(std::remove(colonies_.begin(), colonies_.end(), colony), colonies_.end());
        rocks_ = around.rocks_near(box);
    }

    /// Obstacle of the rim with radius `radius_m` in sector `s`, its other sectors unchanged.
    Hindrance at_rim(int s, double radius_m) const {
        if (radius_m > 0.5 * taxon_.max_diameter_m) return {Obstacle::size_limit, -1};
        for (const int half : {0, -1, 1}) {
            const double angle = sector_angle_rad(s) + half * 0.5 * kSector_rad;
            const Hindrance met = at_rim_spot(angle, chord_radius_m(s, half, radius_m));
            if (met.what != Obstacle::none) return met;
        }
        return spreads_as_sheet(taxon_.form) ? at_ground(s, radius_m) : Hindrance{};
    }

    /// Obstacle of the top with height `height_m`.
    Hindrance at_top(double height_m) const {
        if (height_m > taxon_.max_diameter_m) return {Obstacle::size_limit, -1};
        const Profile profile = profile_of(shape_.form, height_m);
        for (int i = profile.upper; i < profile.count; ++i) {
            for (int s = 0; s < kSectors; s += 3) {
                const double r = kCeilingShare * shape_.radius_m[static_cast<std::size_t>(s)];
                const Vec3 p = tank_m(sector_angle_rad(s), r * profile[i].s, profile[i].z_m);
                const Hindrance met = at_ceiling(p);
                if (met.what != Obstacle::none) return met;
            }
        }
        return {};
    }

  private:
    static constexpr double kSector_rad = 2.0 * kPi / kSectors;

    Vec3 tank_m(double angle, double r_m, double z_m) const {
        return shape_.base_m + lean_ * Vec3(r_m * std::cos(angle), r_m * std::sin(angle), z_m);
    }

    /// Radius of the chord between this sector's rim and its neighbour's, halfway between them, so
    /// that an outline along glass stays straight.
    double chord_radius_m(int s, int half, double radius_m) const {
        if (half == 0) return radius_m;
        const double beside =
            shape_.radius_m[static_cast<std::size_t>((s + half + kSectors) % kSectors)];
        const double sum = radius_m + beside;
        return sum > 0.0 ? 2.0 * radius_m * beside * std::cos(0.5 * kSector_rad) / sum : 0.0;
    }

    Hindrance at_rim_spot(double angle, double radius_m) const {
        const Vec3 rim = tank_m(angle, radius_m, profile_.rim_z_m);
        if (rim.z() < -kBurialDepth_m) return {Obstacle::sand, -1};
        if (const Hindrance met = at_point(rim, true); met.what != Obstacle::none) return met;
        for (int i = 1; i + 1 < profile_.count; ++i) {
            const ProfilePoint& at = profile_[i];
            if (at.s < kRimShare) continue;
            // Its own rock may rise above its foot without being an obstacle.
            const bool above = at.z_m >= profile_.rim_z_m;
            const Hindrance met = at_point(tank_m(angle, radius_m * at.s, at.z_m), above);
            if (met.what != Obstacle::none) return met;
        }
        return {};
    }

    Hindrance at_point(const Vec3& p, bool above_foot) const {
        if (at_glass(layout_.tank, p)) return {Obstacle::glass, -1};
        return at_solid(p, above_foot && !spreads_as_sheet(taxon_.form));
    }

    Hindrance at_ceiling(const Vec3& p) const { return at_solid(p, false); }

    Hindrance at_solid(const Vec3& p, bool own_rock_counts) const {
        if (p.z() > layout_.tank.water_depth_m - kSurfaceGap_m) return {Obstacle::surface, -1};
        for (const int r : rocks_)
            if ((r != own_rock_ || own_rock_counts) && around_.rock(r).inside(p))
                return {Obstacle::rock, -1};
        for (const int c : colonies_)
            if (around_.body(c)->inside(p, gap_to_m(c))) return {Obstacle::colony, c};
        return {};
    }

    /// Cuttings of one individual grow together without a gap.
    double gap_to_m(int other) const {
        const Colony& met = layout_.colonies[static_cast<std::size_t>(other)];
        return same_clone(colony_, met) ? 0.0 : kColonyGap_m;
    }

    /// Obstacle in the ground under the rim of a spreading sheet.
    Hindrance at_ground(int s, double radius_m) const {
        const Vec3 p = tank_m(sector_angle_rad(s), radius_m, 0.0);
        if (own_rock_ >= 0) {
            const auto top_m = around_.rock(own_rock_).top_at(p.x(), p.y());
            if (!top_m || *top_m < p.z() - kFollowedStep_m) return {Obstacle::edge, -1};
            if (*top_m > p.z() + kFollowedStep_m) return {Obstacle::rock, -1};
            return {};
        }
        if (!colony_.on_bed()) return {};
        const double grain_m = layout_.substrate.grain_at_m(p.head<2>());
        return crosses_sand(taxon_, grain_m) ? Hindrance{} : Hindrance{Obstacle::sand, -1};
    }

    const Surroundings& around_;
    const Layout& layout_;
    const Colony& colony_;
    const Taxon& taxon_;
    ColonyShape shape_;
    Eigen::Matrix3d lean_;
    Profile profile_;
    int own_rock_;
    std::vector<int> colonies_, rocks_;
};

struct Advance {
    double to_m = 0.0;
    Hindrance met;
};

/// Advances from `from_m` by up to `gain_m`, with a test every kStep_m; at an obstacle the position
/// is found by bisection to 0.1 mm.
template <class Probe>
Advance advance(double from_m, double gain_m, const Probe& probe) {
    const int steps = static_cast<int>(std::ceil(gain_m / kStep_m));
    double reached_m = from_m;
    for (int i = 1; i <= steps; ++i) {
        double blocked_m = from_m + gain_m * i / steps;
        const Hindrance met = probe(blocked_m);
        if (met.what == Obstacle::none) {
            reached_m = blocked_m;
            continue;
        }
        while (blocked_m - reached_m > 1e-4) {
            const double middle_m = 0.5 * (reached_m + blocked_m);
            (probe(middle_m).what == Obstacle::none ? reached_m : blocked_m) = middle_m;
        }
        return {reached_m, met};
    }
    return {reached_m, {}};
}

}  // namespace

bool at_glass(const Tank& tank, const Vec3& point_m) {
    return point_m.x() < kGlassGap_m || point_m.x() > tank.length_m - kGlassGap_m ||
           point_m.y() < kGlassGap_m || point_m.y() > tank.width_m - kGlassGap_m;
}

Extension extend(const Surroundings& around, int colony, const ColonyState& state,
                 const RadialProfile& share, double dt_d) {
    assert(dt_d >= 0.0);
    const Layout& layout = around.layout();
    const Colony& grower = layout.colonies[static_cast<std::size_t>(colony)];
    const Taxon& taxon = layout.taxon_of(grower);
    const double fastest_m =
        1e-3 * taxon.extension_mm_yr.mean * grower.growth_factor / kDaysPerYear * dt_d;
    const GrowthProbe probe(around, colony, state,
                            fastest_m * std::max(1.0, taxon.vertical_per_radial));
    Extension grown;
    double mean_gain_m = 0.0;
    for (int s = 0; s < kSectors; ++s) {
        const auto i = static_cast<std::size_t>(s);
        assert(share[i] >= 0.0 && share[i] <= 1.0);
        const double gain_m = fastest_m * share[i];
        const Advance step = advance(state.radius_m[i], gain_m,
                                     [&](double radius_m) { return probe.at_rim(s, radius_m); });
        grown.radius_m[i] = step.to_m;
        grown.met[i] = step.met;
        if (step.met.what != Obstacle::size_limit) mean_gain_m += gain_m / kSectors;
    }
    const Advance rise = advance(state.height_m, taxon.vertical_per_radial * mean_gain_m,
                                 [&](double height_m) { return probe.at_top(height_m); });
    grown.height_m = rise.to_m;
    grown.met_above = rise.met;
    return grown;
}

}  // namespace bedshade
