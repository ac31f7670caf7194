#include "model/flow/imposed_jet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bedshade {
namespace {

constexpr double kHandOverCells = 1.5;  ///< half-width at which the grid takes over
constexpr double kClearCells = 1.5;     ///< left between the end of the jet and what it meets
/// Of the way to what it meets, for an opposing pump may be imposing its own jet from there.
constexpr double kMostOfTheWay = 0.4;
/// Rate at which the water gives way, in cells passed by the jet: fast beside its own motion.
constexpr double kRatePerPassing = 4.0;

bool blocked(const Vec3& point_m, const Box& water, const std::vector<Rock>& rocks) {
    return !water.contains(point_m) ||
           std::any_of(rocks.begin(), rocks.end(),
                       [&](const Rock& rock) { return inside(rock, point_m); });
}

/// How far a jet runs from its nozzle before it meets something [m].
double free_length_m(const Pump& pump, const Box& water, const std::vector<Rock>& rocks,
                     double step_m) {
    double length = 0.0;
    while (!blocked(pump.position_m + (length + step_m) * pump.direction, water, rocks))
        length += step_m;
    return length;
}

double fade(double value, double from, double to) {
    return std::clamp((to - value) / (to - from), 0.0, 1.0);
}

}  // namespace

ImposedJet::ImposedJet(const Pump& pump, const Box& water, const std::vector<Rock>& rocks,
                       double cell_m)
    : jet_{pump.position_m, pump.direction, nozzle_speed_m_s(pump.flow_m3_s, pump.nozzle_m),
           pump.nozzle_m, kNozzleJetSpread},
      cell_m_(cell_m),
      kinematic_thrust_m4_s2_(thrust_N(1.0, pump.flow_m3_s, pump.nozzle_m)) {
    const double clear = kClearCells * cell_m;
    const double free = free_length_m(pump, water, rocks, 0.25 * cell_m);
    const double most = std::max(std::min(free - clear, kMostOfTheWay * free), clear);
    const double resolved = kHandOverCells * cell_m / jet_.spread;
    imposed_m_ = std::min(resolved, most);
    told_m_ = std::min(resolved, free);
}

ImposedJet::Place ImposedJet::place(const Vec3& point_m) const {
    const Vec3 offset = point_m - jet_.nozzle_m;
    const double along = offset.dot(jet_.direction);
    return {along, (offset - along * jet_.direction).norm()};
}

double ImposedJet::coarse_half_width_m(double along_m) const {
    return std::max(half_width_m(jet_, along_m), cell_m_);
}

double ImposedJet::coarse_speed_m_s(const Place& at) const {
    const double along = std::max(at.along_m, 0.0);
    const double width = coarse_half_width_m(along);
    const double r = at.radius_m / width;
    return centreline_speed_m_s(jet_, along) * half_width_m(jet_, along) / width *
           std::exp(-std::numbers::ln2 * r * r);
}

/// 1 near the axis, 0 beyond one and a half half-widths and past the handing over.
double ImposedJet::weight(const Place& at) const {
    // It begins half a cell behind the nozzle, lest no face lies between nozzle and first centre.
    if (at.along_m < -0.5 * cell_m_) return 0.0;
    const double width = coarse_half_width_m(std::max(at.along_m, 0.0));
    return fade(at.along_m, imposed_m_ - cell_m_, imposed_m_) *
           fade(at.radius_m, width, 1.5 * width);
}

Vec3 ImposedJet::true_m_s(const Vec3& point_m) const {
    const Place at = place(point_m);
    if (at.along_m > told_m_) return Vec3::Zero();
    return jet_speed_m_s(jet_, at.along_m, at.radius_m) * jet_.direction;
}

BodyForce ImposedJet::body_force() const {
    BodyForce body_force;
    body_force.shape_m_s = [jet = *this](const Vec3& p) -> Vec3 {
        return jet.coarse_speed_m_s(jet.place(p)) * jet.jet_.direction;
    };
    body_force.weight = [jet = *this](const Vec3& p) { return jet.weight(jet.place(p)); };
    body_force.direction = jet_.direction;
    body_force.rate_per_s = kRatePerPassing * coarse_speed_m_s({0.0, 0.0}) / cell_m_;
    body_force.thrust_m4_s2 = kinematic_thrust_m4_s2_;
    return body_force;
}

}  // namespace bedshade
