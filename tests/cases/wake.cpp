#include "tests/cases/wake.h"

#include <cmath>
#include <vector>

#include "model/flow/grid_flow.h"
#include "model/flow/wake.h"

namespace bedshade::cases {
namespace {

constexpr double kCell_m = 0.03;

Pump pump(const Vec3& at_m, const Vec3& toward_m, double litres_h, double nozzle_m) {
    Pump p;
    p.position_m = at_m;
    p.direction = (toward_m - at_m).normalized();
    p.nozzle_m = nozzle_m;
    p.flow_m3_s = litres_h / 3.6e6;
    return p;
}

struct Bed {
    FlowScene scene;
    std::vector<FlowBody> bodies;
};

Bed bed_of(const Vec3& size_m, std::vector<Pump> pumps, std::vector<FlowBody> bodies) {
    Bed bed;
    bed.scene.tank.length_m = size_m.x();
    bed.scene.tank.width_m = size_m.y();
    bed.scene.tank.water_depth_m = size_m.z();
    bed.scene.pumps = std::move(pumps);
    bed.bodies = std::move(bodies);
    return bed;
}

FlowBody body(double x_m, double y_m, double diameter_m, double height_m) {
    return {Vec3(x_m, y_m, 0.0), 0.5 * diameter_m, height_m};
}

Bed laid_out(WakeBed which) {
    const Vec3 large(1.2, 0.6, 0.54);
    if (which == WakeBed::one_low_pump)
        return bed_of(large, {pump({0.03, 0.3, 0.16}, {1.2, 0.3, 0.16}, 6000, 0.04)},
                      {body(0.45, 0.3, 0.15, 0.15), body(0.7, 0.15, 0.12, 0.12),
                       body(0.8, 0.42, 0.18, 0.12), body(0.95, 0.3, 0.12, 0.18)});
    if (which == WakeBed::crossed_pumps)
        return bed_of(
            large,
            {pump({0.03, 0.15, 0.25}, {1.2, 0.4, 0.1}, 6000, 0.03),
             pump({1.17, 0.45, 0.3}, {0.0, 0.2, 0.2}, 4000, 0.03)},
            {body(0.4, 0.2, 0.15, 0.15), body(0.6, 0.4, 0.12, 0.12), body(0.8, 0.3, 0.18, 0.12),
             body(0.3, 0.45, 0.12, 0.18), body(0.95, 0.15, 0.15, 0.15)});
    return bed_of({0.9, 0.48, 0.42},
                  {pump({0.03, 0.36, 0.3}, {0.6, 0.2, 0.0}, 4000, 0.025),
                   pump({0.87, 0.1, 0.3}, {0.0, 0.3, 0.3}, 3000, 0.03)},
                  {body(0.25, 0.15, 0.12, 0.1), body(0.45, 0.33, 0.15, 0.12),
                   body(0.62, 0.15, 0.12, 0.15), body(0.72, 0.36, 0.1, 0.1)});
}

FlowScene with_bodies(const Bed& bed) {
    FlowScene scene = bed.scene;
    for (const FlowBody& b : bed.bodies) {
        Rock rock;
        rock.shape = RockDome{b.base_m, b.radius_m, b.height_m};
        scene.rocks.push_back(rock);
    }
    return scene;
}

/// Points around a body, relative to the incident flow, in the water and outside rock.
std::vector<Vec3> points_about(const FlowBody& b, const GridFlow& open, const FlowScene& solid) {
    const Vec2 level = open.velocity_m_s(b.base_m + Vec3(0.0, 0.0, 0.75 * b.height_m)).head<2>();
    const Vec2 flow_direction = level.normalized(), across(-flow_direction.y(), flow_direction.x());
    std::vector<Vec3> points;
    for (const double z : {0.25, 0.5, 0.9, 1.2, 1.6})
        for (const double along : {-1.5, -0.8, 0.8, 1.2, 1.8, 2.5, 3.5, 5.0})
            for (const double aside : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
                const Vec2 p = b.base_m.head<2>() +
                               2.0 * b.radius_m * (along * flow_direction + aside * across);
                const Vec3 point(p.x(), p.y(), z * b.height_m);
                bool usable = p.x() > kCell_m && p.y() > kCell_m &&
                              p.x() < solid.tank.length_m - kCell_m &&
                              p.y() < solid.tank.width_m - kCell_m;
                for (const Rock& rock : solid.rocks) usable = usable && !inside(rock, point);
                if (usable) points.push_back(point);
            }
    return points;
}

}  // namespace

WakeError wake_error(WakeBed which) {
    const Bed bed = laid_out(which);
    const FlowScene solid = with_bodies(bed);
    const GridFlow open(bed.scene, kCell_m), solved(solid, kCell_m);
    double left_out = 0.0, with_wake = 0.0;
    int count = 0;
    for (const FlowBody& b : bed.bodies)
        for (const Vec3& p : points_about(b, open, solid)) {
            const double off = std::log(solved.speed_m_s(p) / open.speed_m_s(p));
            const double wake = std::log(wake_factor(bed.bodies, -1, p, open.velocity_m_s(p)));
            left_out += off * off;
            with_wake += (off - wake) * (off - wake);
            ++count;
        }
    return {std::sqrt(left_out / count), std::sqrt(with_wake / count)};
}

}  // namespace bedshade::cases
