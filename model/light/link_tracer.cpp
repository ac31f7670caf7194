#include "model/light/link_tracer.h"

#include <algorithm>
#include <cmath>

#include "model/base/random.h"
#include "model/light/fresnel.h"

namespace bedshade {
namespace {

/// Mirrors without loss can keep light for long; beyond this the water has taken what counts.
constexpr int kMostBounces = 40;

/// A branching canopy shines less than its albedo times the light on its top: light is spread over
/// its depth. Share of the top's light that is met half way in (assumption; the albedo is 0.08).
constexpr float kCanopyDim = 0.5F;

/// Upright tissue gets about this share of the light on level tissue: rays under water are steep
/// (assumption; the albedo is 0.08).
constexpr float kUprightShare = 0.2F;

/// Inner ring of a lower side, as a share of its half width.
constexpr double kInnerRing = 0.6;

int sextant(const Vec3& from_middle) {
    const double turn = std::atan2(from_middle.y(), from_middle.x()) / (2.0 * kPi) + 0.5;
    return std::min(static_cast<int>(turn * RadiosityElements::kSextants),
                    RadiosityElements::kSextants - 1);
}

/// How far a way runs to one of two parallel planes, [0, far].
float run_to(float from, float direction, float far) {
    if (direction == 0.0F) return 1e30F;
    return std::max(0.0F, ((direction > 0.0F ? far : 0.0F) - from) / direction);
}

Side side_met(int axis, bool far) {
    if (axis == 0) return far ? Side::right : Side::left;
    return far ? Side::back : Side::front;
}

}  // namespace

/// A backward way under way.
struct LinkTracer::Way {
    Eigen::Vector3f from, direction;
    RandomStream random;
    float length_m = 0.0F;
    int element = -1;  // once it has ended

    bool chance(double probability) {
        return probability >= 1.0 || (probability > 0.0 && random.uniform() < probability);
    }
};

LinkTracer::LinkTracer(const Layout& layout, const BedGrid& bed)
    : size_m_(
          Vec3(layout.tank.length_m, layout.tank.width_m, layout.tank.water_depth_m).cast<float>()),
      water_index_(refractive_index(layout.water)),
      pane_index_(pane_indices(layout.tank)),
      solids_(layout),
      elements_(bed, static_cast<int>(solids_.size()), static_cast<int>(layout.colonies.size())),
      scene_(layout.rocks, static_cast<int>(layout.colonies.size())),
      bounds_(layout.colonies.size()) {}

int LinkTracer::top_part(int colony, const Vec3& at_m) const {
    const Box& box = bounds_[static_cast<std::size_t>(colony)];
    return sextant(at_m - 0.5 * (box.min + box.max));
}

int LinkTracer::under_part(int colony, const Vec3& at_m) const {
    const Box& box = bounds_[static_cast<std::size_t>(colony)];
    const Vec3 from_middle = at_m - 0.5 * (box.min + box.max);
    const double half_width = 0.25 * (box.max - box.min).head<2>().sum();
    const bool inner = from_middle.head<2>().norm() < kInnerRing * half_width;
    return sextant(from_middle) + (inner ? 0 : RadiosityElements::kSextants);
}

TransportLink LinkTracer::seen(const Hit& stop, const Way& way) const {
    if (stop.from_inside) return {-1, 0.0F, 0.0F, true};
    const Eigen::Vector3f at = way.from + stop.distance_m * way.direction;
    const float length = way.length_m + stop.distance_m;
    if (stop.by_rock)
        return {elements_.solid(solids_.rock_patch_at(stop.index, at, stop.normal)), 1.0F, length,
                false};
    const Vec3 spot = at.cast<double>();
    if (stop.normal.isZero())
        return {elements_.top(stop.index, top_part(stop.index, spot)), kCanopyDim, length, false};
    const float level = std::abs(stop.normal.z());
    const float weight = level + kUprightShare * (1.0F - level);
    const int element = stop.normal.z() > 0.0F
                            ? elements_.top(stop.index, top_part(stop.index, spot))
                            : elements_.under(stop.index, under_part(stop.index, spot));
    return {element, weight, length, false};
}

double LinkTracer::turned_back(const Way& way, int axis, bool far) const {
    const auto cosine = static_cast<double>(std::abs(way.direction[axis]));
    if (axis == 2) return far ? water_to_air_reflectance(cosine, water_index_) : 0.0;
    const auto& pane = pane_index_[static_cast<std::size_t>(side_met(axis, far))];
    return pane ? pane_reflectance(cosine, {water_index_, *pane}) : 0.0;
}

int LinkTracer::element_at(const Way& way, int axis, bool far) const {
    if (axis < 2) return elements_.solid(solids_.wall_patch_at(side_met(axis, far), way.from));
    return far ? -1 : elements_.sand(way.from);
}

bool LinkTracer::meet_bound(Way& way, float to_bound, int axis) const {
    const bool far = way.direction[axis] > 0.0F;
    way.from += to_bound * way.direction;
    way.length_m += to_bound;
    way.from[axis] = far ? size_m_[axis] : 0.0F;
    if (way.chance(turned_back(way, axis, far))) {
        way.direction[axis] = -way.direction[axis];
        return true;
    }
    way.element = element_at(way, axis, far);
    return false;
}

TransportLink LinkTracer::follow(const Eigen::Vector3f& from_m, const Eigen::Vector3f& direction,
                                 int own, std::uint32_t key) const {
    Way way{from_m, direction, RandomStream(0, 0, Process::radiosity, 0, key)};
    for (int bounce = 0; bounce < kMostBounces; ++bounce) {
        int axis = 2;
        float to_bound = run_to(way.from.z(), way.direction.z(), size_m_.z());
        for (int a = 0; a < 2; ++a) {
            const float to_side = run_to(way.from[a], way.direction[a], size_m_[a]);
            if (to_side < to_bound) {
                to_bound = to_side;
                axis = a;
            }
        }
        Hit stop;
        const double optical_depth = -std::log(way.random.uniform());
        if (scene_.first_hit({way.from, way.direction, to_bound}, own, optical_depth, stop)) {
            TransportLink link = seen(stop, way);
            link.buried = link.buried && bounce == 0;
            return link;
        }
        if (!meet_bound(way, to_bound, axis)) break;
    }
    return {way.element, way.element < 0 ? 0.0F : 1.0F, way.length_m, false};
}

}  // namespace bedshade
