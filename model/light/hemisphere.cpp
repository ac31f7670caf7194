#include "model/light/hemisphere.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "model/base/low_discrepancy.h"
#include "model/base/random.h"

namespace bedshade {
namespace {

double wrapped(double x) { return x - std::floor(x); }

/// The random streams of the shifts are separate from those of the paths.
constexpr int kShiftStream = 1;

}  // namespace

HemisphereSampler::HemisphereSampler(const Vec3& normal, std::uint32_t key)
    : scalar_(normal.isZero()), normal_(scalar_ ? Vec3::UnitZ() : normal) {
    across_ = normal_.unitOrthogonal();
    up_ = normal_.cross(across_);
    RandomStream random(0, 0, Process::radiosity, kShiftStream, key);
    const double u = random.uniform();
    shift_ = {u, random.uniform()};
}

Eigen::Vector3f HemisphereSampler::direction(std::uint32_t k) const {
    const Vec2 point = low_discrepancy_point(k) + shift_;
    const double turn = 2.0 * kPi * wrapped(point.y());
    const double u = wrapped(point.x());
    const double height = scalar_ ? 2.0 * u - 1.0 : std::sqrt(1.0 - u);
    const double out = std::sqrt(std::max(0.0, 1.0 - height * height));
    return (out * std::cos(turn) * across_ + out * std::sin(turn) * up_ + height * normal_)
        .cast<float>();
}

}  // namespace bedshade
