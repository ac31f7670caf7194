#include "model/flow/solver/body_force.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kNoLimit = 1e300;
/// Largest number of iterations of the search for accelerated faces.
constexpr int kMaxIterations = 50;

/// Rate of an implicit step: stable for any relaxation rate.
double implicit_rate_per_s(double rate_per_s, double dt_s) {
    return rate_per_s / (1.0 + dt_s * rate_per_s);
}

}  // namespace

GridBodyForce::GridBodyForce(const BodyForce& body_force, const StaggeredGrid& grid,
                             const std::array<CellRange, 3>& free, const std::vector<bool>& solid)
    : cell_volume_m3_(grid.cell_volume_m3()), thrust_m4_s2_(body_force.thrust_m4_s2) {
    for (int axis = 0; axis < 3; ++axis) {
        const auto component = static_cast<std::size_t>(axis);
        const auto stride = static_cast<std::size_t>(grid.stride(axis));
        for_cells(free[component], [&](const Cells& c) {
            const std::size_t at = grid.at(c);
            if (solid[at] || solid[at - stride]) return;
            const Vec3 place = grid.face_centre_m(axis, c);
            const double weight = body_force.weight(place),
                         shape = body_force.shape_m_s(place)[axis];
            if (!(weight > 0.0) || !(shape * body_force.direction[axis] > 0.0)) return;
            faces_.push_back(
                {component, at, shape, weight * body_force.rate_per_s, body_force.direction[axis]});
            fastest_per_s_ = std::max(fastest_per_s_, std::abs(shape) / grid.cell_m[axis]);
        });
    }
}

bool GridBodyForce::lags(const Face& face, double u_m_s, double scale) {
    return (scale * face.shape_m_s - u_m_s) * face.direction > 0.0;
}

/// The force is linear in the scale for a fixed set of accelerated faces. Faces whose water is
/// faster than the scaled shape are removed, and the scale decreases; the set converges in two or
/// three iterations in practice.
double GridBodyForce::scale_for_thrust(const Velocity& velocity, double dt_s) const {
    double scale = kNoLimit;
    for (int iteration = 0; iteration < kMaxIterations; ++iteration) {
        double of_shape = 0.0, of_water = 0.0;
        for (const Face& f : faces_) {
            const double u = velocity[f.component][f.face];
            if (!lags(f, u, scale)) continue;
            const double rate = f.direction * implicit_rate_per_s(f.rate_per_s, dt_s);
            of_shape += rate * f.shape_m_s;
            of_water += rate * u;
        }
        const double found = (thrust_m4_s2_ / cell_volume_m3_ + of_water) / of_shape;
        if (!(found < scale)) break;
        scale = found;
    }
    return scale;
}

void GridBodyForce::apply(Velocity& velocity, double dt_s) {
    if (faces_.empty()) return;
    scale_ = scale_for_thrust(velocity, dt_s);
    double force = 0.0;
    for (const Face& f : faces_) {
        double& u = velocity[f.component][f.face];
        if (!lags(f, u, scale_)) continue;
        const double apply = implicit_rate_per_s(f.rate_per_s, dt_s) * (scale_ * f.shape_m_s - u);
        u += dt_s * apply;
        force += apply * f.direction;
    }
    force_m4_s2_ = force * cell_volume_m3_;
}

}  // namespace bedshade
