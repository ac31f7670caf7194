#include "model/flow/box/applied_drive.h"

#include <algorithm>

namespace bedshade {
namespace {

constexpr double kLeastScale = 0.05, kMostScale = 1.3;
/// Turns of the drive's own rate over which its scale follows a missing force.
constexpr double kPatience = 4.0;

}  // namespace

AppliedDrive::AppliedDrive(const Drive& drive, const BoxGrid& grid,
                           const std::array<CellRange, 3>& free)
    : cell_volume_m3_(grid.cell_volume_m3()),
      thrust_m4_s2_(drive.thrust_m4_s2),
      response_s_(kPatience / drive.rate_per_s) {
    for (int axis = 0; axis < 3; ++axis) {
        const auto component = static_cast<std::size_t>(axis);
        for_cells(free[component], [&](const Cells& c) {
            const Vec3 place = grid.face_centre_m(axis, c);
            const double weight = drive.weight(place);
            if (weight > 0.0)
                faces_.push_back({component, grid.at(c), drive.target_m_s(place)[axis],
                                  weight * drive.rate_per_s, drive.direction[axis]});
        });
    }
}

void AppliedDrive::push(Velocity& velocity, double dt_s) {
    double force = 0.0;
    for (const Face& f : faces_) {
        double& u = velocity[f.component][f.face];
        const double push =
            f.rate_per_s * (scale_ * f.target_m_s - u) / (1.0 + dt_s * f.rate_per_s);
        u += dt_s * push;
        force += push * f.direction;
    }
    force_m4_s2_ = force * cell_volume_m3_;
    if (!(thrust_m4_s2_ > 0.0)) return;
    const double missing = std::clamp(1.0 - force_m4_s2_ / thrust_m4_s2_, -1.0, 1.0);
    scale_ = std::clamp(scale_ + missing * dt_s / response_s_, kLeastScale, kMostScale);
}

}  // namespace bedshade
