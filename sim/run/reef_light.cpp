#include "sim/run/reef_light.h"

#include <algorithm>
#include <cmath>

#include "model/growth/body.h"

#include "sim/run/actions.h"

namespace bedshade {
namespace {

constexpr double kBedCell_m = 0.025;
constexpr double kMostBedCells = 40000.0;
constexpr double kRedraw_m = 0.0007;
constexpr double kReceiveAnew_m = 0.003;
constexpr double kPictureAnew_m = 0.004;
constexpr double kPictureAlong_m = 0.0005;  // others that have moved so far are drawn along

/// How far a colony may walk from where it is pictured: what it throws back and takes away comes
/// from elsewhere then, and is no less. Until the ground it has crossed is 18 cm2, and no farther
/// than two cells of the bed.
double walks_unpictured_m(const ColonyState& state) {
    constexpr double kCrossed_m2 = 0.0018;
    const double across_m = mean_diameter_m(state.radius_m);
    return std::min(2.0 * kBedCell_m, kCrossed_m2 / std::max(across_m, 1e-3));
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

/// A colony in a shape that was kept; of its state, what shapes depend on.
ColonyState state_of(const DrawnShape& shape) {
    ColonyState state;
    state.present = shape.present;
    state.position_m = shape.position_m;
    state.radius_m = shape.radius_m;
    state.height_m = shape.height_m;
    return state;
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
    const double cell = kBedCell_m * std::sqrt(std::max(1.0, cells / kMostBedCells));
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

Reef reef_now(const Layout& layout) {
    Reef reef = baseline_reef(layout);
    reef.day_d = layout.season.from_d;
    for (std::size_t i = 0; i < reef.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        if (colony.so_far)
            reef.colonies[i] = colony.so_far->state;
        else
            reef.colonies[i].settled_at_d += layout.season.from_d;
    }
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

ReefLight::ReefLight(const Layout& layout, const Reef& baseline, double output_scale,
                     const ParallelFor& parallel, bool full)
    : layout_(layout),
      output_scale_(output_scale),
      full_(full),
      grid_(bed_grid_of(layout.tank)),
      radiosity_(layout, grid_),
      field_(layout, grid_, LightField::kLampSamples, radiosity_.solids()),
      drawn_(layout.colonies.size()),
      received_(layout.colonies.size()),
      pictured_(layout.colonies.size()) {
    for (std::size_t i = 0; i < baseline.colonies.size(); ++i)
        if (baseline.colonies[i].present)
            field_.place_baseline(static_cast<int>(i), in_light(layout, i, baseline.colonies[i]));
    follow(baseline, parallel);
}

ColonyShape ReefLight::shape(std::size_t colony, const ColonyState& state) const {
    const Colony& set_up = layout_.colonies[colony];
    return shape_of(layout_.taxon_of(set_up), set_up, state);
}

DrawnShape ReefLight::anchor_of(const ColonyState& state) {
    return {state.present, state.position_m, state.radius_m, state.height_m};
}

bool ReefLight::apart(const DrawnShape& a, const DrawnShape& b, double by_m) {
    if (a.present != b.present) return true;
    if (!a.present) return false;
    double most = std::max((a.position_m - b.position_m).norm(), std::abs(a.height_m - b.height_m));
    for (std::size_t s = 0; s < a.radius_m.size(); ++s)
        most = std::max(most, std::abs(a.radius_m[s] - b.radius_m[s]));
    return most > by_m;
}

/// Direct light meets it so from now on.
void ReefLight::draw(std::size_t colony, const DrawnShape& anchor) {
    const auto body =
        anchor.present ? std::optional(in_light(layout_, colony, state_of(anchor))) : std::nullopt;
    field_.place(static_cast<int>(colony), body);
    drawn_[colony] = anchor;
}

/// Its light is known on this shape from now on.
void ReefLight::receive(std::size_t colony, const DrawnShape& anchor) {
    field_.set_receptors(static_cast<int>(colony),
                         anchor.present ? receptors_on(shape(colony, state_of(anchor)))
                                        : std::vector<LightReceptor>{});
    received_[colony] = anchor;
}

/// Diffuse light meets it so once it is looked out for again.
void ReefLight::picture(std::size_t colony, const DrawnShape& anchor) {
    const int index = static_cast<int>(colony);
    if (anchor.present)
        radiosity_.place(index, in_light(layout_, colony, state_of(anchor)),
                         receptors_on(shape(colony, state_of(anchor))));
    else
        radiosity_.place(index, std::nullopt, {});
    pictured_[colony] = anchor;
}

void ReefLight::follow_colony(std::size_t colony, const ColonyState& state) {
    const DrawnShape today = anchor_of(state);
    if (apart(today, drawn_[colony], kRedraw_m)) draw(colony, today);
    if (apart(today, received_[colony], kReceiveAnew_m)) receive(colony, today);
}

void ReefLight::place_in_radiosity(std::size_t colony, const ColonyState& state) {
    const DrawnShape today = anchor_of(state);
    if (!apart(today, pictured_[colony], kPictureAlong_m)) return;
    if ((today.position_m - pictured_[colony].position_m).norm() > kPictureAnew_m)
        radiosity_.reset_baseline(static_cast<int>(colony));
    picture(colony, today);
}

void ReefLight::update_radiosity(const Reef& reef, const ParallelFor& parallel) {
    bool moved = !links_traced_;
    for (std::size_t i = 0; i < reef.colonies.size(); ++i) {
        const DrawnShape today = anchor_of(reef.colonies[i]);
        DrawnShape where_it_was = today;
        where_it_was.position_m = pictured_[i].position_m;
        const double walked_m = (today.position_m - where_it_was.position_m).norm();
        moved = moved || apart(where_it_was, pictured_[i], kPictureAnew_m) ||
                (today.present && walked_m > walks_unpictured_m(reef.colonies[i]));
    }
    if (moved)
        for (std::size_t i = 0; i < reef.colonies.size(); ++i)
            place_in_radiosity(i, reef.colonies[i]);
    if (moved || full_) radiosity_.trace_links(parallel);
    links_traced_ = true;
}

void ReefLight::solve(const ParallelFor& parallel) {
    bed_ = field_.bed(today_, parallel);
    colonies_ = field_.colonies(today_, parallel);
    const std::vector<double> solids = field_.solids(today_, parallel);
    radiosity_.solve({bed_, solids, colonies_}, today_, parallel);
    for (std::size_t i = 0; i < bed_.size(); ++i) bed_[i] += radiosity_.bed()[i];
    for (std::size_t c = 0; c < colonies_.size(); ++c) {
        const int colony = static_cast<int>(c);
        if (radiosity_.colony(colony).empty()) continue;
        add_diffuse(colonies_[c], radiosity_.colony(colony),
                    radiosity_.colony_baseline(colony, today_), field_.receptors(colony), today_);
    }
}

void ReefLight::follow(const Reef& reef, const ParallelFor& parallel) {
    for (std::size_t i = 0; i < reef.colonies.size(); ++i) follow_colony(i, reef.colonies[i]);
    field_.update(parallel, full_);
    update_radiosity(reef, parallel);
    today_ = lamps_on(layout_, reef.day_d, output_scale_);
    solve(parallel);
}

void ReefLight::fill(std::size_t colony, ColonyMemory& memory) const {
    memory.drawn = drawn_[colony];
    memory.received = received_[colony];
    memory.pictured = pictured_[colony];
    radiosity_.fill(static_cast<int>(colony), memory);
}

void ReefLight::remember(const ParallelFor& parallel) {
    const auto memory_of = [this](std::size_t i) -> const ColonyMemory* {
        const auto& so_far = layout_.colonies[i].so_far;
        return so_far && so_far->memory ? &*so_far->memory : nullptr;
    };
    for (std::size_t i = 0; i < layout_.colonies.size(); ++i) {
        const ColonyMemory* memory = memory_of(i);
        if (memory == nullptr) continue;
        draw(i, memory->drawn);
        receive(i, memory->received);
        picture(i, memory->pictured);
    }
    field_.update(parallel, full_);
    radiosity_.trace_links(parallel);
    if (layout_.season.memory) radiosity_.remember(*layout_.season.memory);
    for (std::size_t i = 0; i < layout_.colonies.size(); ++i)
        if (const ColonyMemory* memory = memory_of(i))
            radiosity_.remember(static_cast<int>(i), *memory);
}

std::vector<double> ReefLight::points(std::span<const LightReceptor> receptors) const {
    std::vector<double> light = field_.points(receptors, today_);
    const std::vector<double> diffuse = radiosity_.points(receptors, today_);
    for (std::size_t i = 0; i < light.size(); ++i) light[i] += diffuse[i];
    return light;
}

}  // namespace bedshade
