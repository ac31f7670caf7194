#include <fmt/format.h>
#include <utility>

#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostPatches = 500;

/// What a side is made of: a word, or a bare diffuse reflectance.
void read_wall(TableReader& in, const char* key, Wall& wall) {
    const auto* found = in.node(key);
    if (!found) return;
    if (!found->is_number()) {
        in.choice<WallKind>(key, wall.kind,
                            {{"glass", WallKind::glass},
                             {"acrylic", WallKind::acrylic},
                             {"black", WallKind::black},
                             {"coralline", WallKind::coralline}});
        return;
    }
    if (in.number(key, wall.reflectance, kShare)) wall.kind = WallKind::diffuse;
}

void read_walls(TableReader& in, Tank& tank) {
    Wall all;
    read_wall(in, "walls", all);
    tank.walls.fill(all);
    read_wall(in, "front", tank.wall(Side::front));
    read_wall(in, "back", tank.wall(Side::back));
    read_wall(in, "left", tank.wall(Side::left));
    read_wall(in, "right", tank.wall(Side::right));
}

void read_patch(TableReader& in, const std::string& name, LayoutBuilder& builder) {
    SubstratePatch patch;
    patch.name = name;
    if (in.spot("around", patch.around_m, Need::required))
        over_floor(in, "around", patch.around_m, builder);
    in.quantity("radius", patch.radius_m, kLength, {0.1, 2000.0}, Need::required);
    in.quantity("grain", patch.grain_m, kSmallLength, {0.02, 50.0}, Need::required);
    builder.layout.substrate.patches.push_back(std::move(patch));
}

}  // namespace

void read_tank(TableReader& top, LayoutBuilder& builder) {
    Tank& tank = builder.layout.tank;
    auto in = top.child("tank");
    if (!in) {
        if (!top.has("tank"))
            top.diagnostics().error(top.place(), "the [tank] section is missing",
                                    "give its length, width and water_depth");
        return;
    }
    in->quantity("length", tank.length_m, kLength, {5.0, 2000.0}, Need::required);
    in->quantity("width", tank.width_m, kLength, {5.0, 2000.0}, Need::required);
    in->quantity("water_depth", tank.water_depth_m, kLength, {5.0, 500.0}, Need::required);
    in->quantity("rim", tank.rim_m, kLength, {0.0, 100.0});
    read_walls(*in, tank);
    in->number("cover", tank.cover_transmittance, kShare);
    in->finish();
}

void read_substrate(TableReader& top, LayoutBuilder& builder) {
    Substrate& sand = builder.layout.substrate;
    auto in = top.child("substrate");
    if (!in) return;
    in->quantity("grain", sand.grain_m, kSmallLength, {0.02, 50.0});
    in->quantity("density", sand.density_kg_m3, kDensity, {1100.0, 8000.0});
    in->number("porosity", sand.porosity, {0.2, 0.9});
    in->quantity("depth", sand.depth_m, kLength, {0.0, 100.0});
    in->number("reflectance", sand.reflectance, kShare);
    for_each_named(*in, "patch", kMostPatches, [&](TableReader& item, const std::string& name) {
        read_patch(item, name, builder);
    });
    in->finish();
}

}  // namespace bedshade
