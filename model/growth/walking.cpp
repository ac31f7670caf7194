#include "model/growth/walking.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/base/random.h"
#include "model/growth/extension.h"
#include "model/growth/forms.h"

namespace bedshade {
namespace {

constexpr double kStep_m = 0.005;
constexpr double kFootHeight_m = 0.002;  // height at which a foot is tested for obstacles

/// Collision test with points on the rim of a walker, relative to its base.
class CollisionProbe {
  public:
    CollisionProbe(const Surroundings& around, int colony, const ColonyState& state)
        : around_(around), colony_(colony) {
        const Layout& layout = around.layout();
        const Colony& walker = layout.colonies[static_cast<std::size_t>(colony)];
        const ColonyShape shape = shape_of(layout.taxon_of(walker), walker, state);
        for (std::size_t s = 0; s < kSectors; ++s) {
            rim_m_[s] = rim_point_m(shape, static_cast<int>(s), shape.radius_m[s]) - shape.base_m;
            rim_m_[s].z() = std::max(rim_m_[s].z(), kFootHeight_m);
            reach_m_ = std::max(reach_m_, rim_m_[s].norm());
        }
    }

    /// Number of points in collision when its base is here.
    int collisions_at(const Vec3& base_m) const {
        const Box box = grown({base_m, base_m}, reach_m_ + kColonyGap_m);
        auto colonies = around_.colonies_near(box);
        std::erase(colonies, colony_);
        const auto rocks = around_.rocks_near(box);
        int collisions = 0;
        for (const Vec3& off_m : rim_m_) {
            const Vec3 rim = base_m + off_m;
            const Vec3 foot(rim.x(), rim.y(), base_m.z() + kFootHeight_m);
            const bool in_rock = std::any_of(rocks.begin(), rocks.end(), [&](int r) {
                return around_.rock(r).inside(rim) || around_.rock(r).inside(foot);
            });
            const bool in_coral = std::any_of(colonies.begin(), colonies.end(), [&](int c) {
                return around_.body(c)->inside(rim, kColonyGap_m);
            });
            collisions += in_rock || in_coral || at_glass(around_.layout().tank, rim) ? 1 : 0;
        }
        return collisions;
    }

  private:
    const Surroundings& around_;
    int colony_;
    std::array<Vec3, kSectors> rim_m_;
    double reach_m_ = 0.0;
};

}  // namespace

double mobility_m_d(const Taxon& taxon, double across_m) {
    const double over = std::max(across_m / kFullMobilityDiameter_m, 1.0);
    return taxon.mobility_m_d / (over * over);
}

Vec2 days_walk_m(const Taxon& taxon, double across_m, const Vec2& brighter, std::uint64_t seed,
                 std::uint32_t member, std::int32_t day, int colony) {
    RandomStream random(seed, member, Process::walking, day, static_cast<std::uint32_t>(colony));
    const double angle = 2.0 * kPi * random.uniform();
    const double length_m = mobility_m_d(taxon, across_m) * random.uniform();
    Vec2 direction(std::cos(angle), std::sin(angle));
    if (taxon.mobility_m_d >= kPhototaxisMobility_m_d) direction += kPhototaxisGain * brighter;
    const double norm = direction.norm();
    return norm > 0.0 ? Vec2(length_m / norm * direction) : Vec2(Vec2::Zero());
}

Vec3 walked_to_m(const Surroundings& around, int colony, const ColonyState& state,
                 const Vec2& walk_m) {
    const CollisionProbe probe(around, colony, state);
    const int steps = static_cast<int>(std::ceil(walk_m.norm() / kStep_m));
    int collisions = probe.collisions_at(state.position_m);
    Vec3 base_m = state.position_m;
    for (int i = 1; i <= steps; ++i) {
        Vec3 next = state.position_m;
        next.head<2>() += walk_m * (static_cast<double>(i) / steps);
        const int next_collisions = probe.collisions_at(next);
        if (next_collisions > collisions) break;
        collisions = next_collisions;
        base_m = next;
    }
    return base_m;
}

}  // namespace bedshade
