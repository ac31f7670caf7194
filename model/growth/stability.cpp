#include "model/growth/stability.h"

#include <algorithm>
#include <cmath>

#include "model/growth/extension.h"

namespace bedshade {
namespace {

constexpr double kStep_m = 0.005;
constexpr int kDirections = 8;           // directions in which the ground around a base is sampled
constexpr int kUnsupportedLimit = 3;     // of them without rock make it fall over the edge: a guess
constexpr double kClimbHeight_m = 0.01;  // step up that a moving coral can pass: a guess
constexpr double kGustsPerDay = 1440.0;

double mean_radius_m(const ColonyState& state) { return 0.5 * mean_diameter_m(state.radius_m); }

double weight_N(const ColonyState& state) {
    return kWeightInWater_N_m3 * kSolidFraction * planar_area_m2(state.radius_m) * state.height_m;
}

/// Lever of the drag over that of the weight about the edge of the bearing, on level rock [1].
double lever_ratio(const Taxon& taxon, const ColonyState& state) {
    return 0.5 * (state.height_m + taxon.overhang_m) / (kBearingFraction * mean_radius_m(state));
}

Vec2 direction_of(int k) {
    const double angle = 2.0 * kPi * k / kDirections;
    return {std::cos(angle), std::sin(angle)};
}

/// The rocks and sand below one colony.
class Ground {
  public:
    Ground(const Surroundings& around, const ColonyState& state)
        : around_(around), radius_m_(mean_radius_m(state)) {}

    /// Height of the highest rock or sand at a point, not above `below_m`.
    double top_m(const Vec2& spot_m, double below_m) const {
        double top = 0.0;
        for (std::size_t r = 0; r < around_.layout().rocks.size(); ++r)
            if (const auto at = around_.rock(static_cast<int>(r)).top_at(spot_m.x(), spot_m.y());
                at && *at <= below_m)
                top = std::max(top, *at);
        return top;
    }
    double drop_m(const Vec3& base_m, const Vec2& off_m) const {
        return base_m.z() - top_m(base_m.head<2>() + off_m, base_m.z() + 0.5 * radius_m_);
    }
    /// Direction in which its bearing is unsupported; zero where it is stable.
    Vec2 unsupported(const Vec3& base_m) const {
        Vec2 toward = Vec2::Zero();
        int unsupported_count = 0;
        for (int k = 0; k < kDirections; ++k) {
            if (drop_m(base_m, kBearingFraction * radius_m_ * direction_of(k)) < kFallHeight_m)
                continue;
            toward += direction_of(k);
            ++unsupported_count;
        }
        return unsupported_count >= kUnsupportedLimit && toward.norm() > 1e-9
                   ? Vec2(toward.normalized())
                   : Vec2(Vec2::Zero());
    }
    /// Slope of the ground, downhill [1]; a drop is not a slope.
    Vec2 downhill(const Vec3& base_m) const {
        const double off_m = kBearingFraction * radius_m_;
        const auto fall = [&](const Vec2& direction) {
            const double ahead_m = drop_m(base_m, off_m * direction);
            const double behind_m = drop_m(base_m, -off_m * direction);
            if (std::max(ahead_m, behind_m) >= kFallHeight_m) return 0.0;
            return (ahead_m - behind_m) / (2.0 * off_m);
        };
        return {fall(Vec2::UnitX()), fall(Vec2::UnitY())};
    }
    Vec2 inside_glass(const Vec2& p) const {
        const Tank& tank = around_.layout().tank;
        const double room_m = radius_m_ + kGlassGap_m;
        const auto inside = [room_m](double x, double length_m) {
            return length_m > 2.0 * room_m ? std::clamp(x, room_m, length_m - room_m)
                                           : 0.5 * length_m;
        };
        return {inside(p.x(), tank.length_m), inside(p.y(), tank.width_m)};
    }
    /// Distance of a point from the nearest one where the whole coral is inside the glass.
    double into_glass_m(const Vec2& p) const { return (inside_glass(p) - p).norm(); }
    double radius_m() const { return radius_m_; }

  private:
    const Surroundings& around_;
    double radius_m_;
};

/// Whether any part of a footprint overlaps a colony's outline.
bool lies_over(const ColonyBody& body, const Vec3& base_m, double radius_m) {
    const auto over = [&](const Vec2& off_m) {
        const Vec3 p = body.to_upright_m(base_m + Vec3(off_m.x(), off_m.y(), 0.0));
        return body.relative_radius(p.head<2>()) <= 1.0;
    };
    if (over(Vec2::Zero())) return true;
    for (int k = 0; k < kDirections; ++k)
        if (over(radius_m * direction_of(k))) return true;
    return false;
}

/// End of a movement along the ground, and whether the centre is over an edge there.
struct SlideEnd {
    Vec3 at_m;
    bool over_edge = false;
};

/// Moves along the ground until it drops or rises, or glass blocks the path.
SlideEnd slide_along(const Ground& ground, const Vec3& from_m, const Vec2& direction,
                     double length_m) {
    Vec3 at = from_m;
    const int steps = static_cast<int>(std::ceil(length_m / kStep_m));
    for (int i = 0; i < steps; ++i) {
        Vec3 next = at;
        next.head<2>() += length_m / steps * direction;
        if (ground.into_glass_m(next.head<2>()) > ground.into_glass_m(at.head<2>()) + 1e-9) break;
        next.z() = ground.top_m(next.head<2>(), at.z() + ground.radius_m());
        if (next.z() > at.z() + kClimbHeight_m) break;
        if (next.z() < at.z() - kFallHeight_m) return {Vec3(next.x(), next.y(), at.z()), true};
        at = next;
    }
    return {at, false};
}

/// Landing position of a coral that falls from `from_m`.
Displacement fall_from(const Surroundings& around, int colony, const ColonyState& state,
                       const Vec3& from_m) {
    const Ground ground(around, state);
    Displacement displacement;
    displacement.to_m.head<2>() = ground.inside_glass(from_m.head<2>());
    displacement.to_m.z() = ground.top_m(displacement.to_m.head<2>(), from_m.z() - kFallHeight_m);
    const Vec3 at(displacement.to_m.x(), displacement.to_m.y(), from_m.z());
    const Box below = grown({Vec3(at.x(), at.y(), 0.0), at}, ground.radius_m());
    for (const int c : around.colonies_near(below)) {
        if (c == colony) continue;
        const ColonyBody& body = *around.body(c);
        const double top_m = body.bounds().max.z();
        if (top_m > from_m.z() || top_m <= displacement.to_m.z()) continue;
        if (!lies_over(body, displacement.to_m, ground.radius_m())) continue;
        displacement.to_m.z() = top_m;
        displacement.onto = c;
    }
    return displacement;
}

/// Displacement after a movement: a fall beside the edge, or the end of the movement.
Displacement displacement_after(const Surroundings& around, int colony, const ColonyState& state,
                                const SlideEnd& slide, const Vec2& direction) {
    if (!slide.over_edge) return {FallCause::edge, slide.at_m, -1};
    Vec3 clear = slide.at_m;
    clear.head<2>() += mean_radius_m(state) * direction;
    return fall_from(around, colony, state, clear);
}

}  // namespace

bool is_loose(const Taxon& taxon, const Colony& colony) {
    return !colony.attached.value_or(taxon.form != Form::free_living_disc &&
                                     taxon.form != Form::solitary);
}

double strongest_gust_m_s(double mean_m_s, double turbulent_m_s, double days, double uniform) {
    // Norming constants of the maximum of n normal variates (Cramer 1946).
    const double log_n = std::log(std::max(kGustsPerDay * days, 2.0));
    const double a = std::sqrt(2.0 * log_n);
    const double mode = a - (std::log(log_n) + std::log(4.0 * kPi)) / (2.0 * a);
    const double largest = mode - std::log(-std::log(uniform)) / a;
    return mean_m_s + turbulent_m_s / std::sqrt(3.0) * largest;
}

double drag_N(const Taxon& taxon, const ColonyState& state, double speed_m_s) {
    constexpr double kHalfDensity_kg_m3 = 0.5 * 1025.0;
    const double area_m2 = (mean_diameter_m(state.radius_m) + 2.0 * taxon.overhang_m) *
                           (state.height_m + taxon.overhang_m);
    return kHalfDensity_kg_m3 * area_m2 * speed_m_s * speed_m_s;
}

double critical_speed_m_s(const Taxon& taxon, const ColonyState& state) {
    const double holds_N = weight_N(state) * std::min(kFriction, 1.0 / lever_ratio(taxon, state));
    return std::sqrt(holds_N / drag_N(taxon, state, 1.0));
}

std::optional<Displacement> displacement_in_gust(const Surroundings& around, int colony,
                                                 const ColonyState& state, const Gust& gust) {
    const Layout& layout = around.layout();
    const Colony& placed = layout.colonies[static_cast<std::size_t>(colony)];
    const Taxon& taxon = layout.taxon_of(placed);
    if (!is_loose(taxon, placed) || around.rock_under(placed, state.position_m) < 0)
        return std::nullopt;
    const Ground ground(around, state);
    Vec2 direction = ground.unsupported(state.position_m);
    FallCause why = FallCause::edge;
    if (direction.isZero()) {
        const Vec2 down = ground.downhill(state.position_m);
        const double drag = drag_N(taxon, state, gust.speed_m_s);
        const Vec2 pull_N = weight_N(state) * down + drag * gust.heading;
        const bool tips = gust.speed_m_s > critical_speed_m_s(taxon, state);
        if (!tips && pull_N.norm() <= kFriction * weight_N(state)) return std::nullopt;
        why = down.norm() > kFriction ? FallCause::slope : FallCause::flow;
        direction = pull_N.normalized();
    }
    const SlideEnd slide =
        slide_along(ground, state.position_m, direction, 2.0 * ground.radius_m());
    if (slide.at_m == state.position_m) return std::nullopt;
    Displacement displacement = displacement_after(around, colony, state, slide, direction);
    displacement.why = why;
    return displacement;
}

Displacement walked_over_rock(const Surroundings& around, int colony, const ColonyState& state,
                              const Vec3& to_m) {
    const Vec2 walk_m = (to_m - state.position_m).head<2>();
    const double length_m = walk_m.norm();
    if (length_m <= 0.0) return {FallCause::edge, state.position_m, -1};
    const Vec2 direction = walk_m / length_m;
    const SlideEnd slide =
        slide_along(Ground(around, state), state.position_m, direction, length_m);
    return displacement_after(around, colony, state, slide, direction);
}

}  // namespace bedshade
