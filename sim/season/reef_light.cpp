#include "sim/season/reef_light.h"

#include <algorithm>
#include <cmath>

#include "model/growth/body.h"

namespace bedshade {
namespace {

constexpr double kBedCell_m = 0.025;
constexpr double kMostBedCells = 40000.0;

ColonyState state_as_set(const Taxon& taxon, const Colony& colony) {
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

ColonyReceptors receptors_of(int index, const ColonyShape& shape) {
    ColonyReceptors receptors{index, {}};
    const Vec3 axis = lean_of(shape) * Vec3::UnitZ();
    for (const LivePatch& patch : live_patches(shape))
        receptors.patches.push_back({patch.position_m, axis, patch.area_m2});
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

Reef reef_as_set(const Layout& layout) {
    Reef reef;
    for (const Colony& colony : layout.colonies)
        reef.colonies.push_back(state_as_set(layout.taxon_of(colony), colony));
    return reef;
}

ReefLight::ReefLight(const Layout& layout, const Reef& as_set, double output_scale)
    : layout_(layout),
      output_scale_(output_scale),
      grid_(bed_grid_of(layout.tank)),
      field_(layout, grid_),
      receptors_(layout.colonies.size()) {
    place(field_.canopy_as_set(), as_set);
    follow(as_set);
}

void ReefLight::place(Canopy& canopy, const Reef& reef) const {
    for (std::size_t i = 0; i < reef.colonies.size(); ++i) {
        const int index = static_cast<int>(i);
        const ColonyState& state = reef.colonies[i];
        if (!state.present) {
            canopy.take_away(index);
            continue;
        }
        const Colony& colony = layout_.colonies[i];
        const Taxon& taxon = layout_.taxon_of(colony);
        canopy.place(index, mesh_of(shape_of(taxon, colony, state)),
                     extinction_per_m(taxon.canopy_m2_per_m3));
    }
    canopy.commit();
}

void ReefLight::follow(const Reef& reef) {
    place(field_.canopy(), reef);
    for (std::size_t i = 0; i < reef.colonies.size(); ++i) {
        const ColonyState& state = reef.colonies[i];
        const int index = static_cast<int>(i);
        if (!state.present) {
            receptors_[i] = {index, {}};
            continue;
        }
        const Colony& colony = layout_.colonies[i];
        receptors_[i] = receptors_of(index, shape_of(layout_.taxon_of(colony), colony, state));
    }
    today_ = lamps_on(layout_, reef.day_d, output_scale_);
}

std::vector<double> ReefLight::bed(const ParallelFor& parallel) const {
    return field_.bed(today_, parallel);
}

std::vector<ColonyLight> ReefLight::colonies(const ParallelFor& parallel) const {
    return field_.colonies(receptors_, today_, parallel);
}

std::vector<double> ReefLight::points(std::span<const LightReceptor> receptors) const {
    return field_.points(receptors, today_);
}

}  // namespace bedshade
