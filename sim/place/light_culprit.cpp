#include "sim/place/light_culprit.h"

#include <algorithm>
#include <cmath>

#include "model/growth/rock_probe.h"

#include "sim/place/sky.h"

namespace bedshade {
namespace {

constexpr int kDirections = 192;
constexpr double kStep_m = 0.004;
constexpr double kWorthNaming = 0.03;  ///< of the sky: less is nobody's fault

/// Part of a ray that lies within a box, as distances from its start; empty where to < from.
struct Stretch {
    double from_m, to_m;
};

Stretch within(const Box& box, const Vec3& from, const Vec3& toward) {
    Stretch stretch{0.0, 1e9};
    for (int axis = 0; axis < 3; ++axis) {
        if (std::abs(toward[axis]) < 1e-9) {
            if (from[axis] < box.min[axis] || from[axis] > box.max[axis]) return {1.0, 0.0};
            continue;
        }
        const double a = (box.min[axis] - from[axis]) / toward[axis];
        const double b = (box.max[axis] - from[axis]) / toward[axis];
        stretch.from_m = std::max(stretch.from_m, std::min(a, b));
        stretch.to_m = std::min(stretch.to_m, std::max(a, b));
    }
    return stretch;
}

template <class Body>
bool meets(const Body& body, const Vec3& from, const Vec3& toward) {
    const Stretch stretch = within(body.bounds(), from, toward);
    const auto steps = std::floor((stretch.to_m - stretch.from_m) / kStep_m);
    for (int step = 0; step <= steps; ++step)
        if (body.inside(from + (stretch.from_m + step * kStep_m) * toward)) return true;
    return false;
}

int most_of(const std::vector<double>& share) {
    const auto most = std::max_element(share.begin(), share.end());
    return most == share.end() || *most <= 0.0 ? -1 : static_cast<int>(most - share.begin());
}

/// The share of the sky over a point that a body alone would hide.
template <class Body>
double hidden_by(const Body& body, const Vec3& point_m) {
    const auto directions = window_directions(kDirections);
    const auto met = std::count_if(directions.begin(), directions.end(),
                                   [&](const Vec3& d) { return meets(body, point_m, d); });
    return static_cast<double>(met) / kDirections;
}

std::vector<double> hidden_by_colony(const BedDay& day, const Vec3& point_m) {
    std::vector<double> hidden(day.colonies.size(), 0.0);
    for (std::size_t c = 0; c < hidden.size(); ++c)
        if (day.colonies[c]) hidden[c] = hidden_by(day.colonies[c]->body, point_m);
    return hidden;
}

std::vector<double> hidden_by_rock(const Layout& layout, const Vec3& point_m) {
    std::vector<double> hidden;
    for (const Rock& rock : layout.rocks) hidden.push_back(hidden_by(RockProbe(rock), point_m));
    return hidden;
}

std::size_t day_at(const BedForecast& bed, double day_d) {
    std::size_t day = 0;
    while (day + 1 < bed.days().size() && bed.days()[day].day_d < day_d) ++day;
    return day;
}

LightCulprit culprit_at(const BedForecast& bed, const Vec3& point_m, double day_d,
                        double light_of_need) {
    const auto first = hidden_by_colony(bed.days().front(), point_m);
    const auto now = hidden_by_colony(bed.days()[day_at(bed, day_d)], point_m);
    std::vector<double> gained = now;
    for (std::size_t c = 0; c < gained.size(); ++c) gained[c] -= first[c];
    const int grower = most_of(gained);
    const auto at = [](int i) { return static_cast<std::size_t>(i); };
    const double light_gone = std::max(1.0 - light_of_need, 0.0);
    if (grower >= 0 && gained[at(grower)] >= std::max(kWorthNaming, 0.5 * light_gone))
        return {grower, -1, now[at(grower)], true};
    const auto rocks = hidden_by_rock(bed.layout(), point_m);
    const int shader = most_of(now), rock = most_of(rocks);
    const double by_colony = shader < 0 ? 0.0 : now[at(shader)];
    const double by_rock = rock < 0 ? 0.0 : rocks[at(rock)];
    // Without it there would be about that much more light: it must be what makes the difference.
    const auto decides = [&](double share) {
        return share >= kWorthNaming && light_of_need >= 1.0 - share;
    };
    if (by_rock >= by_colony && decides(by_rock)) return {-1, rock, by_rock, false};
    if (decides(by_colony)) return {shader, -1, by_colony, false};
    return {};
}

}  // namespace

LightCulprit light_culprit(const BedForecast& bed, const Candidate& candidate,
                           const SiteAssessment& assessment) {
    const OverTime& light = assessment.criterion(Criterion::light);
    return culprit_at(
        bed,
        Vec3(assessment.at_m.x(), assessment.at_m.y(), candidate.light_height * candidate.height_m),
        light.worst_day_d, std::exp(light.worst));
}

}  // namespace bedshade
