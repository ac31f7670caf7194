#include "sim/run/reef_light.h"

#include <algorithm>
#include <cmath>

#include "model/growth/body.h"

#include "sim/run/actions.h"

namespace bedshade {
namespace {

constexpr double kBedCell_m = 0.025;
constexpr double kMaxBedCells = 40000.0;
constexpr double kOccluder_m = 0.0007;
constexpr double kReceiver_m = 0.003;
constexpr double kDiffuse_m = 0.004;
constexpr double kDiffuseAlong_m = 0.0005;  // others that have moved so far are placed along

TracedShape shape_today(const ColonyState& state) {
    return {state.present, state.position_m, state.radius_m, state.height_m};
}

/// Whether two shapes differ by more than a distance.
bool differ(const TracedShape& a, const TracedShape& b, double by_m) {
    if (a.present != b.present) return true;
    if (!a.present) return false;
    double most = std::max((a.position_m - b.position_m).norm(), std::abs(a.height_m - b.height_m));
    for (std::size_t s = 0; s < a.radius_m.size(); ++s)
        most = std::max(most, std::abs(a.radius_m[s] - b.radius_m[s]));
    return most > by_m;
}

/// How far a colony may walk before diffuse light is traced anew: what it reflects and absorbs
/// comes from elsewhere then, and is no less. Until the ground it has crossed is 18 cm2, and no
/// farther than two cells of the bed.
double walks_untraced_m(const ColonyState& state) {
    constexpr double kCrossed_m2 = 0.0018;
    const double diameter_m = mean_diameter_m(state.radius_m);
    return std::min(2.0 * kBedCell_m, kCrossed_m2 / std::max(diameter_m, 1e-3));
}

/// Whether a colony has grown or walked so far that diffuse light is to be traced anew.
bool needs_diffuse(const ColonyState& state, const TracedShape& traced) {
    const TracedShape today = shape_today(state);
    TracedShape where_it_was = today;
    where_it_was.position_m = traced.position_m;
    const double walked_m = (today.position_m - where_it_was.position_m).norm();
    return differ(where_it_was, traced, kDiffuse_m) ||
           (today.present && walked_m > walks_untraced_m(state));
}

/// Places a colony in the diffuse scene as it is; its diffuse light starts dark there. One that
/// stands elsewhere begins its baseline again.
void follow_diffuse(const ColonyState& state, ColonyLightState& light) {
    const TracedShape today = shape_today(state);
    if (!differ(today, light.diffuse, kDiffuseAlong_m)) return;
    if ((today.position_m - light.diffuse.position_m).norm() > kDiffuse_m) light.baseline = {};
    light.diffuse = today;
    light.top_light.clear();
    light.underside_light.clear();
}

/// The shapes that light is traced for today.
LightState follow(const Reef& reef, LightState light) {
    light.colonies.resize(reef.colonies.size());
    bool any_diffuse = false;
    for (std::size_t i = 0; i < reef.colonies.size(); ++i) {
        const TracedShape today = shape_today(reef.colonies[i]);
        ColonyLightState& colony = light.colonies[i];
        if (differ(today, colony.occluder, kOccluder_m)) colony.occluder = today;
        if (differ(today, colony.receiver, kReceiver_m)) colony.receiver = today;
        any_diffuse = any_diffuse || needs_diffuse(reef.colonies[i], colony.diffuse);
    }
    if (any_diffuse)
        for (std::size_t i = 0; i < reef.colonies.size(); ++i)
            follow_diffuse(reef.colonies[i], light.colonies[i]);
    return light;
}

ColonyState baseline_state(const Taxon& taxon, const Colony& colony) {
    ColonyState state;
    state.position_m = colony.position_m;
    state.radius_m.fill(0.5 * colony.diameter_m);
    state.height_m = colony.height_m;
    state.live_fraction = colony.live_fraction;
    state.settled_at_d = colony.settling_d;
    state.saturation_umol_m2_s =
        std::sqrt(taxon.saturation_umol_m2_s * taxon.saturation_high_umol_m2_s);
    return state;
}

/// A colony in a traced shape; of its state, what shapes depend on.
ColonyState state_of(const TracedShape& shape) {
    ColonyState state;
    state.present = shape.present;
    state.position_m = shape.position_m;
    state.radius_m = shape.radius_m;
    state.height_m = shape.height_m;
    return state;
}

ColonyShape colony_shape(const Layout& layout, std::size_t colony, const TracedShape& shape) {
    const Colony& set_up = layout.colonies[colony];
    return shape_of(layout.taxon_of(set_up), set_up, state_of(shape));
}

std::vector<LightReceptor> receptors_on(const ColonyShape& shape) {
    std::vector<LightReceptor> receptors;
    const Vec3 axis = lean_of(shape) * Vec3::UnitZ();
    for (const LivePatch& patch : live_patches(shape))
        receptors.push_back({patch.position_m, axis, patch.area_m2});
    return receptors;
}

}  // namespace

BedGrid bed_grid_of(const Tank& tank) {
    const double cells = tank.length_m * tank.width_m / (kBedCell_m * kBedCell_m);
    const double cell = kBedCell_m * std::sqrt(std::max(1.0, cells / kMaxBedCells));
    BedGrid grid;
    grid.nx = std::max(1, static_cast<int>(std::lround(tank.length_m / cell)));
    grid.ny = std::max(1, static_cast<int>(std::lround(tank.width_m / cell)));
    grid.cell_x_m = tank.length_m / grid.nx;
    grid.cell_y_m = tank.width_m / grid.ny;
    return grid;
}

Reef baseline_reef(const Layout& layout) {
    Reef reef;
    for (const Colony& colony : layout.colonies)
        reef.colonies.push_back(baseline_state(layout.taxon_of(colony), colony));
    for (std::size_t i = 0; i < reef.colonies.size(); ++i)
        reef.colonies[i].present = !is_added_later(layout, i);
    return reef;
}

LightDay light_day_of(const Layout& layout) {
    std::vector<LampDay> days;
    for (const Lamp& lamp : layout.lamps) days.push_back(lamp.day);
    return light_day(days);
}

ColonyInLight in_light(const Layout& layout, std::size_t colony, const ColonyState& state) {
    const Colony& set_up = layout.colonies[colony];
    const Taxon& taxon = layout.taxon_of(set_up);
    const ColonyShape body = shape_of(taxon, set_up, state);
    return {mesh_of(body), bounds_of(body), extinction_per_m(taxon.canopy_m2_per_m3)};
}

std::vector<double> summed_over_lamps(const std::vector<double>& by_lamp, std::size_t places) {
    std::vector<double> sums(places, 0.0);
    const std::size_t lamps = places == 0 ? 0 : by_lamp.size() / places;
    for (std::size_t place = 0; place < places; ++place)
        for (std::size_t lamp = 0; lamp < lamps; ++lamp)
            sums[place] += by_lamp[place * lamps + lamp];
    return sums;
}

ReefLight::ReefLight(const Layout& layout, double output_scale, bool full)
    : layout_(layout),
      output_scale_(output_scale),
      full_(full),
      grid_(bed_grid_of(layout.tank)),
      radiosity_(layout, grid_),
      field_(layout, grid_, LightField::kLampSamples, radiosity_.solids()),
      placed_(layout.colonies.size()) {
    const Reef baseline = baseline_reef(layout);
    for (std::size_t i = 0; i < baseline.colonies.size(); ++i)
        if (baseline.colonies[i].present)
            field_.place_baseline(static_cast<int>(i), in_light(layout, i, baseline.colonies[i]));
}

void ReefLight::place_occluder(std::size_t colony, const TracedShape& shape) {
    const auto body =
        shape.present ? std::optional(in_light(layout_, colony, state_of(shape))) : std::nullopt;
    field_.place(static_cast<int>(colony), body);
    placed_[colony].occluder = shape;
}

void ReefLight::place_receiver(std::size_t colony, const TracedShape& shape) {
    field_.set_receptors(static_cast<int>(colony),
                         shape.present ? receptors_on(colony_shape(layout_, colony, shape))
                                       : std::vector<LightReceptor>{});
    placed_[colony].receiver = shape;
}

void ReefLight::place_diffuse(std::size_t colony, const TracedShape& shape) {
    const int index = static_cast<int>(colony);
    if (shape.present)
        radiosity_.place(index, in_light(layout_, colony, state_of(shape)),
                         receptors_on(colony_shape(layout_, colony, shape)));
    else
        radiosity_.place(index, std::nullopt, {});
    placed_[colony].diffuse = shape;
}

bool ReefLight::stands_as(const LightState& state) const {
    const auto same = [](const ColonyLightState& a, const ColonyLightState& b) {
        return a.occluder == b.occluder && a.receiver == b.receiver && a.diffuse == b.diffuse;
    };
    return traced_ && std::equal(placed_.begin(), placed_.end(), state.colonies.begin(),
                                 state.colonies.end(), same);
}

/// Brings scene, visibility and links to the shapes of a state, whatever they were brought to
/// before.
void ReefLight::bring_to(const LightState& state, const ParallelFor& parallel) {
    bool diffuse = !traced_ || full_;
    for (std::size_t i = 0; i < placed_.size(); ++i) {
        const ColonyLightState& wanted = state.colonies[i];
        if (wanted.occluder != placed_[i].occluder) place_occluder(i, wanted.occluder);
        if (wanted.receiver != placed_[i].receiver) place_receiver(i, wanted.receiver);
        if (wanted.diffuse == placed_[i].diffuse) continue;
        place_diffuse(i, wanted.diffuse);
        diffuse = true;
    }
    field_.update(parallel, full_);
    if (diffuse) radiosity_.trace(parallel);
    traced_ = true;
}

ReefLightObservation ReefLight::baseline(const ParallelFor& parallel) {
    return observe(baseline_reef(layout_), parallel);
}

ReefLightObservation ReefLight::observe(const Reef& reef, const ParallelFor& parallel) {
    ReefLightObservation light;
    light.state = follow(reef, reef.light);
    bring_to(light.state, parallel);
    light.today = lamps_on(layout_, reef.day_d, output_scale_);
    light.bed = field_.bed(light.today, parallel);
    light.colonies = field_.colonies(light.today, parallel);
    const std::vector<double> solids = field_.solids(light.today, parallel);
    light.exitance =
        radiosity_.solve({light.bed, solids, light.colonies}, light.today, light.state, parallel);
    for (std::size_t i = 0; i < light.bed.size(); ++i) light.bed[i] += light.state.bed_light[i];
    for (std::size_t c = 0; c < light.colonies.size(); ++c) {
        const ColonyLightState& diffuse = light.state.colonies[c];
        if (diffuse.top_light.empty()) continue;
        add_diffuse(light.colonies[c], diffuse.top_light,
                    radiosity_.colony_baseline(diffuse.baseline, light.today), receptors(c),
                    light.today);
    }
    return light;
}

std::vector<double> ReefLight::points(const ReefLightObservation& light,
                                      std::span<const LightReceptor> receptors) {
    if (!stands_as(light.state)) bring_to(light.state, run_serially);
    std::vector<double> at_points = field_.points(receptors, light.today);
    const auto diffuse = radiosity_.points(receptors, light.today, light.exitance);
    for (std::size_t i = 0; i < at_points.size(); ++i) at_points[i] += diffuse[i];
    return at_points;
}

}  // namespace bedshade
