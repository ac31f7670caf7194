#include "model/flow/imposed_jet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bedshade {
namespace {

constexpr double kResolvedCells =
    1.5;  ///< half-width in cells from which the grid resolves the jet
constexpr double kGapCells =
    1.5;  ///< gap in cells between the end of the imposed jet and an obstacle
/// Largest fraction of the distance to an obstacle, since an opposing pump may impose its own jet
/// there.
constexpr double kMaxFreeFraction = 0.4;
/// Relaxation rate per cell passed by the jet: fast compared with advection.
constexpr double kRelaxationPerCell = 4.0;

bool blocked(const Vec3& point_m, const Box& water, const std::vector<Rock>& rocks) {
    return !water.contains(point_m) ||
           std::any_of(rocks.begin(), rocks.end(),
                       [&](const Rock& rock) { return inside(rock, point_m); });
}

/// Length of a jet from its nozzle to the first obstacle [m].
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
    const double clear = kGapCells * cell_m;
    const double free = free_length_m(pump, water, rocks, 0.25 * cell_m);
    const double largest = std::max(std::min(free - clear, kMaxFreeFraction * free), clear);
    const double resolved = kResolvedCells * cell_m / jet_.spread;
    imposed_length_m_ = std::min(resolved, largest);
    subgrid_length_m_ = std::min(resolved, free);
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

/// 1 near the axis, 0 beyond 1.5 half-widths and beyond the imposed length.
double ImposedJet::weight(const Place& at) const {
    // It begins half a cell behind the nozzle, so that at least one face is included.
    if (at.along_m < -0.5 * cell_m_) return 0.0;
    const double width = coarse_half_width_m(std::max(at.along_m, 0.0));
    return fade(at.along_m, imposed_length_m_ - cell_m_, imposed_length_m_) *
           fade(at.radius_m, width, 1.5 * width);
}

Vec3 ImposedJet::subgrid_velocity_m_s(const Vec3& point_m) const {
    const Place at = place(point_m);
    if (at.along_m > subgrid_length_m_) return Vec3::Zero();
    return jet_speed_m_s(jet_, at.along_m, at.radius_m) * jet_.direction;
}

BodyForce ImposedJet::body_force() const {
    BodyForce body_force;
    body_force.shape_m_s = [jet = *this](const Vec3& p) -> Vec3 {
        return jet.coarse_speed_m_s(jet.place(p)) * jet.jet_.direction;
    };
    body_force.weight = [jet = *this](const Vec3& p) { return jet.weight(jet.place(p)); };
    body_force.direction = jet_.direction;
    body_force.rate_per_s = kRelaxationPerCell * coarse_speed_m_s({0.0, 0.0}) / cell_m_;
    body_force.thrust_m4_s2 = kinematic_thrust_m4_s2_;
    return body_force;
}

}  // namespace bedshade
