#include "model/flow/box/applied_drive.h"

namespace bedshade {
namespace {

/// Rate of an implicit step: stable however fast the water gives in.
double implicit_rate_per_s(double rate_per_s, double dt_s) {
    return rate_per_s / (1.0 + dt_s * rate_per_s);
}

}  // namespace

AppliedDrive::AppliedDrive(const Drive& drive, const BoxGrid& grid,
                           const std::array<CellRange, 3>& free)
    : cell_volume_m3_(grid.cell_volume_m3()), thrust_m4_s2_(drive.thrust_m4_s2) {
    for (int axis = 0; axis < 3; ++axis) {
        const auto component = static_cast<std::size_t>(axis);
        for_cells(free[component], [&](const Cells& c) {
            const Vec3 place = grid.face_centre_m(axis, c);
            const double weight = drive.weight(place);
            if (weight > 0.0)
                faces_.push_back({component, grid.at(c), drive.shape_m_s(place)[axis],
                                  weight * drive.rate_per_s, drive.direction[axis]});
        });
    }
}

/// The force is linear in the scale: what the shape would take, less what the water's own motion
/// takes off.
double AppliedDrive::scale_for_thrust(const Velocity& velocity, double dt_s) const {
    double of_shape = 0.0, of_water = 0.0;
    for (const Face& f : faces_) {
        const double rate = f.direction * implicit_rate_per_s(f.rate_per_s, dt_s);
        of_shape += rate * f.shape_m_s;
        of_water += rate * velocity[f.component][f.face];
    }
    return of_shape > 0.0 ? (thrust_m4_s2_ / cell_volume_m3_ + of_water) / of_shape : 0.0;
}

void AppliedDrive::push(Velocity& velocity, double dt_s) {
    scale_ = scale_for_thrust(velocity, dt_s);
    double force = 0.0;
    for (const Face& f : faces_) {
        double& u = velocity[f.component][f.face];
        const double push = implicit_rate_per_s(f.rate_per_s, dt_s) * (scale_ * f.shape_m_s - u);
        u += dt_s * push;
        force += push * f.direction;
    }
    force_m4_s2_ = force * cell_volume_m3_;
}

}  // namespace bedshade
