#include "model/flow/jet_flow.h"

#include <algorithm>
#include <cmath>

#include "model/flow/seawater.h"

namespace bedshade {
namespace {

constexpr double kSightStep_m = 0.02;
/// Largest background speed, a guess: a tank that reaches it is no longer a few jets in quiet
/// water.
constexpr double kFastestBackground_m_s = 0.25;

/// Below this speed a jet is neglected against the background.
constexpr double kLeastSpeed_m_s = 1e-3;

/// Sum of momentum fluxes: velocities add as |u| u.
struct MomentumSum {
    Vec3 kinematic_m2_s2 = Vec3::Zero();

    void add(const Vec3& velocity_m_s) { kinematic_m2_s2 += velocity_m_s.norm() * velocity_m_s; }
    Vec3 velocity_m_s() const {
        const double size = kinematic_m2_s2.norm();
        return size > 0.0 ? Vec3(kinematic_m2_s2 / std::sqrt(size)) : Vec3(Vec3::Zero());
    }
};

/// Velocity of a jet at a point. `travelled_m` is the length of the jet before its nozzle.
Vec3 velocity_of(const Jet& jet, const Vec3& point_m, double travelled_m) {
    const Vec3 offset = point_m - jet.nozzle_m;
    const double along = offset.dot(jet.direction);
    if (along < 0.0) return Vec3::Zero();
    const double radius = (offset - along * jet.direction).norm();
    return jet_speed_m_s(jet, along + travelled_m, radius) * jet.direction;
}

Vec3 mirrored_in_bed(const Vec3& v) { return {v.x(), v.y(), -v.z()}; }

/// Distance from a point inside a box to its faces along a direction [m]. The bed is not a face.
double distance_to_glass_m(const Box& water, const Vec3& from_m, const Vec3& direction) {
    double nearest = 1e300;
    for (int axis = 0; axis < 3; ++axis) {
        if (direction[axis] > 1e-12)
            nearest = std::min(nearest, (water.max[axis] - from_m[axis]) / direction[axis]);
        else if (direction[axis] < -1e-12 && axis < 2)
            nearest = std::min(nearest, (water.min[axis] - from_m[axis]) / direction[axis]);
    }
    return std::max(nearest, 0.0);
}

/// The jet along the bed: slower by the square root of the momentum fraction kept.
std::optional<Jet> along_bed(const Jet& free, const Vec3& meets_m) {
    const Vec3 horizontal(free.direction.x(), free.direction.y(), 0.0);
    const double cosine = horizontal.norm();
    if (cosine < 1e-9) return std::nullopt;
    Jet bed = free;
    bed.nozzle_m = meets_m;
    bed.direction = horizontal / cosine;
    bed.nozzle_speed_m_s *= std::sqrt(0.5 * (1.0 + cosine));
    return bed;
}

/// Background speed. The power of the mean flow where jets meet the glass, M Uc/3 for a Gaussian
/// profile, dissipates in the tank's volume; turbulence of length scale l with dissipation e per
/// mass has the speed (e l)^(1/3), l half of the tank's shortest inner side. The constant is taken
/// as 1: a guess, within a factor of two. The return flow of entrained water, Q(x) over the tank's
/// section, has the same magnitude.
double background_speed_m_s(double power_W, double density_kg_m3, const Vec3& size_m) {
    const double dissipation = power_W / (density_kg_m3 * size_m.prod());
    return std::min(std::cbrt(dissipation * 0.5 * size_m.minCoeff()), kFastestBackground_m_s);
}

}  // namespace

JetFlow::JetFlow(const Tank& tank, const std::vector<Pump>& pumps, const std::vector<Rock>& rocks,
                 const Water& water)
    : water_{Vec3::Zero(), Vec3(tank.length_m, tank.width_m, tank.water_depth_m)},
      settings_(pump_settings(pumps)) {
    for (const auto& rock : rocks) obstacles_.push_back({rock, bounds_of(rock)});
    const double density = seawater(water).density_kg_m3;
    for (const auto& pump : pumps) paths_.push_back(path_of(pump, density));
    for (const auto& setting : settings_) {
        double power_W = 0.0;
        for (std::size_t p = 0; p < paths_.size(); ++p)
            if (setting.running[p]) power_W += paths_[p].dissipated_power_W;
        background_m_s_.push_back(background_speed_m_s(power_W, density, water_.max));
    }
}

JetFlow::Path JetFlow::path_of(const Pump& pump, double density_kg_m3) const {
    Path path;
    path.free = {pump.position_m, pump.direction, nozzle_speed_m_s(pump.flow_m3_s, pump.nozzle_m),
                 pump.nozzle_m, kNozzleJetSpread};
    path.thrust_N = thrust_N(density_kg_m3, pump.flow_m3_s, pump.nozzle_m);
    double reach = distance_to_glass_m(water_, pump.position_m, pump.direction);
    const double down = -pump.direction.z();
    if (down > 1e-9 && pump.position_m.z() / down < reach) {
        path.bed_from_m = pump.position_m.z() / down;
        const Vec3 meets = pump.position_m + path.bed_from_m * pump.direction;
        path.along_bed = along_bed(path.free, meets);
        reach = path.bed_from_m;
        if (path.along_bed) reach += distance_to_glass_m(water_, meets, path.along_bed->direction);
    }
    path.dissipated_power_W = path.thrust_N * centreline_speed_m_s(path.free, reach) / 3.0;
    return path;
}

bool JetFlow::in_water(const Vec3& point_m) const { return water_.contains(point_m); }

bool JetFlow::visible(const Vec3& from_m, const Vec3& to_m) const {
    const double length = (to_m - from_m).norm();
    // Tissue is on rock: the last part of the line before it is not tested.
    const int steps = static_cast<int>((length - 0.5 * kSightStep_m) / kSightStep_m);
    for (int i = 1; i <= steps; ++i) {
        const Vec3 p = from_m + (to_m - from_m) * (i * kSightStep_m / length);
        for (const auto& obstacle : obstacles_)
            if (obstacle.bounds_m.contains(p) && inside(obstacle.rock, p)) return false;
    }
    return true;
}

Vec3 JetFlow::free_part_m_s(const Path& path, const Vec3& point_m) const {
    const double along = (point_m - path.free.nozzle_m).dot(path.free.direction);
    if (along > path.bed_from_m) return Vec3::Zero();
    MomentumSum sum;
    sum.add(velocity_of(path.free, point_m, 0.0));
    sum.add(mirrored_in_bed(velocity_of(path.free, mirrored_in_bed(point_m), 0.0)));
    Vec3 velocity = sum.velocity_m_s();
    if (velocity.norm() < kLeastSpeed_m_s || !visible(path.free.nozzle_m, point_m))
        return Vec3::Zero();
    return velocity;
}

Vec3 JetFlow::bed_part_m_s(const Path& path, const Vec3& point_m) const {
    if (!path.along_bed) return Vec3::Zero();
    const Jet& bed = *path.along_bed;
    // On the bed the jet and its image coincide: twice the momentum, sqrt(2) times the speed.
    Vec3 velocity = std::sqrt(2.0) * velocity_of(bed, point_m, path.bed_from_m);
    if (velocity.norm() < kLeastSpeed_m_s) return Vec3::Zero();
    // Lines are slightly above the sand, so that they intersect the feet of rocks.
    const Vec3 lifted = bed.nozzle_m + Vec3(0.0, 0.0, 0.01);
    if (!visible(path.free.nozzle_m, lifted) || !visible(lifted, point_m)) return Vec3::Zero();
    return velocity;
}

Vec3 JetFlow::pump_velocity_m_s(std::size_t pump, const Vec3& point_m) const {
    if (!in_water(point_m)) return Vec3::Zero();
    // Both parts describe the same water where they overlap, so the larger counts, not the sum.
    const Vec3 free = free_part_m_s(paths_[pump], point_m);
    const Vec3 bed = bed_part_m_s(paths_[pump], point_m);
    return free.squaredNorm() >= bed.squaredNorm() ? free : bed;
}

Vec3 JetFlow::setting_velocity_m_s(std::size_t setting, const Vec3& point_m) const {
    MomentumSum sum;
    for (std::size_t p = 0; p < paths_.size(); ++p)
        if (settings_[setting].running[p]) sum.add(pump_velocity_m_s(p, point_m));
    return sum.velocity_m_s();
}

double JetFlow::setting_speed_m_s(std::size_t setting, const Vec3& point_m) const {
    if (!in_water(point_m)) return 0.0;
    double square = background_m_s_[setting] * background_m_s_[setting];
    for (std::size_t p = 0; p < paths_.size(); ++p)
        if (settings_[setting].running[p]) square += pump_velocity_m_s(p, point_m).squaredNorm();
    return std::sqrt(square);
}

std::vector<double> JetFlow::setting_pump_shares(std::size_t setting, const Vec3& point_m) const {
    const auto& running = settings_[setting].running;
    double power_W = 0.0;
    for (std::size_t p = 0; p < paths_.size(); ++p)
        if (running[p]) power_W += paths_[p].dissipated_power_W;
    std::vector<double> shares(paths_.size(), 0.0);
    double sum = 0.0;
    const double background = background_m_s_[setting] * background_m_s_[setting];
    for (std::size_t p = 0; p < paths_.size(); ++p) {
        if (!running[p]) continue;
        shares[p] = pump_velocity_m_s(p, point_m).squaredNorm();
        if (power_W > 0.0) shares[p] += background * paths_[p].dissipated_power_W / power_W;
        sum += shares[p];
    }
    if (sum > 0.0)
        for (double& share : shares) share /= sum;
    return shares;
}

}  // namespace bedshade
