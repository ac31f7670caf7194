#include "sim/place/shade_cast.h"

#include <algorithm>
#include <cmath>

#include "sim/place/sky.h"

namespace bedshade {
namespace {

constexpr int kDirections = 24;
constexpr double kPorousShade = 0.6;  ///< of the light that meets a porous canopy (a guess)
constexpr double kLeastTaken = 0.02;  ///< shade below this is nobody's concern
constexpr double kWindowTangent = 1.12;

/// Whether a ray from a point meets an upright drum.
bool meets_drum(const Vec3& from, const Vec3& toward, const Vec2& centre, double radius_m,
                double low_m, double high_m) {
    for (const double z_m : {low_m, 0.5 * (low_m + high_m), high_m}) {
        const double t = (z_m - from.z()) / toward.z();
        if (t <= 0.0) continue;
        const Vec2 there = (from + t * toward).head<2>();
        if ((there - centre).norm() < radius_m) return true;
    }
    return false;
}

double sky_taken(const NeighbourThen& neighbour, const Vec2& centre, double radius_m, double low_m,
                 double high_m) {
    static const auto directions = window_directions(kDirections);
    constexpr std::array<std::array<double, 2>, 5> kOn = {
        {{0.0, 0.0}, {0.6, 0.0}, {-0.6, 0.0}, {0.0, 0.6}, {0.0, -0.6}}};
    int met = 0;
    for (const auto& on : kOn) {
        const Vec3 from(neighbour.body.base_m().x() + on[0] * neighbour.radius_m,
                        neighbour.body.base_m().y() + on[1] * neighbour.radius_m, neighbour.high_m);
        for (const Vec3& direction : directions)
            met += meets_drum(from, direction, centre, radius_m, low_m, high_m) ? 1 : 0;
    }
    return static_cast<double>(met) / static_cast<double>(kOn.size() * directions.size());
}

}  // namespace

void note_shade(const BedForecast& bed, std::size_t day, const Site& site, int neighbour,
                const Candidate& candidate, double radius_m, double height_m,
                SiteAssessment& assessment) {
    const BedDay& then = bed.days()[day];
    const auto& colony = then.colonies[static_cast<std::size_t>(neighbour)];
    if (!colony || colony->light_of_need < 1.0 || std::isinf(colony->light_of_need)) return;
    const double above_m = height_m - colony->high_m;
    if (above_m <= 0.0) return;
    const double off_m = (colony->body.base_m().head<2>() - site.at_m).norm();
    if (off_m > radius_m + colony->radius_m + kWindowTangent * above_m) return;
    const double opaque = candidate.taxon.canopy_m2_per_m3 > 0.0 ? kPorousShade : 1.0;
    const double taken = opaque * sky_taken(*colony, site.at_m, radius_m, 0.5 * height_m, height_m);
    if (taken < kLeastTaken) return;
    const double left = std::log(colony->light_of_need * std::max(1.0 - taken, 1e-3));
    OverTime& shade = assessment.criterion(Criterion::shade);
    if (left < shade.worst) assessment.shaded = neighbour;
    shade.note(left, then.day_d);
}

}  // namespace bedshade
