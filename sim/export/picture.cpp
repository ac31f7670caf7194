#include "sim/export/picture.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <stdexcept>

#include "model/growth/forms.h"
#include "model/light/rock_mesh.h"

#include "sim/base/calendar.h"
#include "sim/export/silhouette.h"
#include "sim/export/svg.h"
#include "sim/report/report.h"
#include "sim/trajectory/run_layout.h"

namespace bedshade {
namespace {

constexpr double kWidth = 1060.0, kMargin = 56.0, kDrawing = 640.0;
constexpr double kKeyLeft = kMargin + kDrawing + 40.0;
constexpr int kShades = 9;
constexpr std::size_t kMostFlags = 4;
const Paint kInk{"none", "#1f2933", 1.2, 1.0, false};
const Paint kRock{"#8a8178", "#5c554d", 1.0, 0.75, false};
const Paint kAlive{"#c8553d", "#6b2417", 1.2, 0.72, false};
const Paint kDead{"#ffffff", "#6b2417", 1.2, 0.8, true};
const Paint kLamp{"#ffffff", "#1f2933", 1.2, 0.9, true};

/// A view of the tank: where its metres fall on the page.
struct View {
    Vec2 corner;  ///< of the page, where the view's origin is
    double px_per_m;

    Vec2 at(const Vec2& m) const { return corner + px_per_m * Vec2(m.x(), -m.y()); }
    std::vector<Vec2> at(std::vector<Vec2> points) const {
        for (Vec2& p : points) p = at(p);
        return points;
    }
};

/// Dark to light in even steps of lightness, one hue to the next: it reads the same without colour.
std::string shade_colour(int step) {
    const double t = static_cast<double>(step) / (kShades - 1);
    const auto mix = [&](double dark, double light) {
        return static_cast<int>(std::lround(dark + (light - dark) * t));
    };
    return fmt::format("#{:02x}{:02x}{:02x}", mix(27, 253), mix(58, 246), mix(87, 214));
}

/// A round step so that `kShades` steps cover the brightest cell.
double shade_step(const std::vector<double>& ppfd) {
    const double most = *std::max_element(ppfd.begin(), ppfd.end());
    for (const double step : {1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0})
        if (step * kShades >= most) return step;
    return std::ceil(most / kShades / 100.0) * 100.0;
}

/// All inputs of a picture.
struct Scene {
    const Trajectory& run;
    int month;
    int snapshot;
    Layout layout;
    std::vector<ColonyRecord> colonies;
    std::vector<double> bed_ppfd;
    View plan, front;

    ColonyShape shape(std::size_t i) const { return shape_of(run.colonies()[i], colonies[i]); }
};

Scene scene_of(const Trajectory& run, int month) {
    const int snapshot = snapshot_at_month(run, month);
    Scene scene{run,
                month,
                snapshot,
                layout_of(run),
                run.colonies_at(0, snapshot),
                run.bed_at(0, snapshot).ppfd_umol_m2_s,
                {},
                {}};
    const Tank& tank = scene.layout.tank;
    const double scale = kDrawing / tank.length_m;
    const double plan_bottom = 96.0 + scale * tank.width_m;
    scene.plan = {Vec2(kMargin, plan_bottom), scale};
    double top_m = tank.water_depth_m + tank.rim_m;
    for (const Lamp& lamp : scene.layout.lamps) top_m = std::max(top_m, lamp.centre_m.z());
    scene.front = {Vec2(kMargin, plan_bottom + 84.0 + scale * top_m), scale};
    return scene;
}

void draw_bed(const Scene& scene, Svg& svg) {
    const BedGrid& grid = scene.run.bed_grid();
    const double step = shade_step(scene.bed_ppfd);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const double steps = scene.bed_ppfd[grid.index(i, j)] / step;
            // Non-finite values, in a run file made by others, are drawn as dark.
            const int shade = steps > 0.0 ? static_cast<int>(std::min(steps, kShades - 1.0)) : 0;
            const Vec2 corner = scene.plan.at(Vec2(i * grid.cell_x_m, (j + 1) * grid.cell_y_m));
            // A hair over its size, so that no seams show.
            svg.rect(corner,
                     scene.plan.px_per_m * Vec2(grid.cell_x_m, grid.cell_y_m) + Vec2(0.3, 0.3),
                     {shade_colour(shade)});
        }
}

void draw_scale(const Scene& scene, double top, Svg& svg) {
    const double step = shade_step(scene.bed_ppfd);
    svg.text({kKeyLeft, top}, "Light on the bed, umol m-2 s-1", 12, "start", true);
    for (int k = 0; k < kShades; ++k) {
        svg.rect({kKeyLeft + 30.0 * k, top + 8.0}, {30.0, 14.0}, {shade_colour(k), "#1f2933", 0.5});
        svg.text({kKeyLeft + 30.0 * k, top + 36.0}, fmt::format("{:.0f}", step * k), 10, "middle");
    }
}

/// The places along a side that are marked, from its start [m].
std::vector<double> marks_along(double side_m) {
    constexpr double kApart_m = 0.2;
    std::vector<double> marks(1 + static_cast<std::size_t>((side_m + 1e-9) / kApart_m));
    for (std::size_t k = 0; k < marks.size(); ++k) marks[k] = kApart_m * static_cast<double>(k);
    return marks;
}

void draw_frame(const View& view, const Vec2& size_m, const char* title, Svg& svg) {
    svg.rect(view.at(Vec2(0.0, size_m.y())), view.px_per_m * size_m, kInk);
    svg.text(view.at(Vec2(0.0, size_m.y())) - Vec2(0.0, 8.0), title, 13, "start", true);
    for (const double x : marks_along(size_m.x()))
        svg.text(view.at(Vec2(x, 0.0)) + Vec2(0.0, 14.0), fmt::format("{:.0f}", 100.0 * x), 10,
                 "middle");
    for (const double y : marks_along(size_m.y()))
        svg.text(view.at(Vec2(0.0, y)) + Vec2(-6.0, 3.0), fmt::format("{:.0f}", 100.0 * y), 10,
                 "end");
}

void draw_rocks(const Scene& scene, const View& view, int up, Svg& svg) {
    for (const Rock& rock : scene.layout.rocks)
        svg.polygon(view.at(silhouette(rock_mesh(rock), 0, up)), kRock);
}

/// Colonies, the lower ones first so that what is above lies above.
void draw_colonies(const Scene& scene, const View& view, int up, Svg& svg) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < scene.colonies.size(); ++i)
        if (can_be_drawn(scene.colonies[i])) order.push_back(i);
    const int depth = up == 1 ? 2 : 1;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const double x = scene.colonies[a].position_m[depth],
                     y = scene.colonies[b].position_m[depth];
        return up == 1 ? x < y : x > y;
    });
    for (const std::size_t i : order)
        svg.polygon(view.at(silhouette(mesh_of(scene.shape(i)), 0, up)),
                    scene.colonies[i].live_fraction > 0.5 ? kAlive : kDead);
    for (const std::size_t i : order) {
        const Vec3& base = scene.colonies[i].position_m;
        const double high = up == 2 ? base.z() + 0.5 * scene.colonies[i].height_m : base.y();
        svg.text(view.at(Vec2(base.x(), high)) + Vec2(0.0, 4.0), fmt::format("{}", i + 1), 11,
                 "middle", true, true);
    }
}

void draw_lamps_and_pumps(const Scene& scene, Svg& svg) {
    for (const Lamp& lamp : scene.layout.lamps) {
        const Vec2 half = 0.5 * lamp.size_m.cwiseMax(Vec2(0.02, 0.02));
        const Vec2 centre = lamp.centre_m.head<2>();
        Paint outline = kLamp;
        outline.fill = "none";
        svg.rect(scene.plan.at(Vec2(centre.x() - half.x(), centre.y() + half.y())),
                 2.0 * scene.plan.px_per_m * half, outline);
        const Vec2 face = scene.front.at(Vec2(centre.x() - half.x(), lamp.centre_m.z()));
        svg.rect(face - Vec2(0.0, 8.0), {2.0 * scene.front.px_per_m * half.x(), 8.0}, {"#1f2933"});
    }
    const Paint jet{"none", "#1f2933", 1.6};
    for (const Pump& pump : scene.layout.pumps) {
        const Vec3 tip = pump.position_m + 0.06 * pump.direction;
        const Vec2 from_above = scene.plan.at(pump.position_m.head<2>());
        svg.circle(from_above, 4.0, {"#1f2933"});
        svg.line(from_above, scene.plan.at(tip.head<2>()), jet);
        const Vec2 from_front = scene.front.at(Vec2(pump.position_m.x(), pump.position_m.z()));
        svg.circle(from_front, 4.0, {"#1f2933"});
        svg.line(from_front, scene.front.at(Vec2(tip.x(), tip.z())), jet);
    }
}

std::string key_line(const Scene& scene, std::size_t i) {
    const ColonyRecord& c = scene.colonies[i];
    const std::string light =
        c.need_dli_mol_m2_d > 0.0
            ? fmt::format("{:.1f} of {:.1f}", c.dli_mol_m2_d, c.need_dli_mol_m2_d)
            : std::string("no need");
    return fmt::format(
        "{:.0f} cm, light {}{}", 100.0 * c.diameter_m, light,
        c.live_fraction < 0.995 ? fmt::format(", {:.0f} % alive", 100.0 * c.live_fraction) : "");
}

double draw_key(const Scene& scene, double top, Svg& svg) {
    svg.text({kKeyLeft, top}, "Corals (diameter; daily light and need, mol m-2)", 12, "start",
             true);
    for (std::size_t i = 0; i < scene.colonies.size(); ++i) {
        if (!scene.colonies[i].present) continue;
        top += 17.0;
        svg.text({kKeyLeft + 18.0, top}, fmt::format("{}", i + 1), 11, "end", true);
        svg.text({kKeyLeft + 26.0, top}, scene.run.colonies()[i].name, 11);
        svg.text({kKeyLeft + 135.0, top}, key_line(scene, i), 11);
    }
    return top;
}

/// Words broken so that no line is longer than `width` characters.
std::vector<std::string> wrapped(const std::string& text, std::size_t width) {
    std::vector<std::string> lines(1);
    std::size_t from = 0;
    while (from < text.size()) {
        const std::size_t end = std::min(text.find(' ', from), text.size());
        if (!lines.back().empty() && lines.back().size() + end - from >= width)
            lines.emplace_back();
        if (!lines.back().empty()) lines.back() += ' ';
        lines.back() += text.substr(from, end - from);
        from = end + 1;
    }
    return lines;
}

double draw_flags(const Scene& scene, double top, Svg& svg) {
    const double until = scene.run.days_d()[static_cast<std::size_t>(scene.snapshot)] + 0.5;
    std::size_t shown = 0, left = 0;
    for (const Flag& flag : scene.run.flags()) {
        if (flag.day_d > until) continue;
        if (shown == kMostFlags) {
            ++left;
            continue;
        }
        if (shown++ == 0) svg.text({kMargin, top}, "Flags so far", 12, "start", true);
        for (const std::string& line : wrapped(flag_text(scene.layout, flag), 150))
            svg.text({kMargin, top += 16.0}, line, 11);
    }
    if (left > 0) svg.text({kMargin, top += 16.0}, fmt::format("and {} more", left), 11);
    if (shown == 0) svg.text({kMargin, top}, "No flags so far", 12, "start", true);
    return top;
}

}  // namespace

std::string picture_svg(const Trajectory& run, int month) {
    const Scene scene = scene_of(run, month);
    const Tank& tank = scene.layout.tank;
    const double flags_top = scene.front.corner.y() + 44.0;
    Svg svg(kWidth, flags_top + 120.0);
    svg.text({kMargin, 34.0}, run.title().empty() ? "A reef layout" : run.title(), 20, "start",
             true);
    const double day = run.days_d()[static_cast<std::size_t>(scene.snapshot)];
    svg.text({kMargin, 54.0},
             fmt::format("month {}, {}{}", month, date_at(run.start(), day),
                         run.complete() ? "" : " (of a run that was not finished)"),
             13);
    draw_bed(scene, svg);
    draw_rocks(scene, scene.plan, 1, svg);
    draw_colonies(scene, scene.plan, 1, svg);
    draw_frame(scene.plan, {tank.length_m, tank.width_m}, "From above (cm; back at the top)", svg);
    draw_rocks(scene, scene.front, 2, svg);
    draw_colonies(scene, scene.front, 2, svg);
    draw_frame(scene.front, {tank.length_m, tank.water_depth_m},
               "From the front (cm above the sand)", svg);
    draw_lamps_and_pumps(scene, svg);
    draw_scale(scene, 96.0, svg);
    draw_key(scene, 162.0, svg);
    draw_flags(scene, flags_top, svg);
    return svg.finish();
}

}  // namespace bedshade
