#include <array>
#include <fmt/format.h>
#include <optional>
#include <utility>

#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"
#include "sim/input/mesh/rock_mesh_reader.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostRocks = 2000;
constexpr Range kRockSide{0.1, 2000.0};

enum class RockKind { box, slab, dome, mesh };

/// The keys of each shape, in the order of RockKind.
struct ShapeKeys {
    const char* shape;
    std::array<const char*, 6> keys;
};
constexpr std::array kShapeKeys = {
    ShapeKeys{"box", {"min", "max"}},
    ShapeKeys{"slab", {"centre", "size", "tilt", "azimuth"}},
    ShapeKeys{"dome", {"centre", "radius", "height"}},
    ShapeKeys{"mesh", {"file", "mesh", "at", "scale", "turn", "fit"}},
};

bool has_key(const ShapeKeys& shape, std::string_view key) {
    for (const char* own : shape.keys)
        if (own && key == own) return true;
    return false;
}

void refuse_keys_of_other_shapes(TableReader& in, RockKind kind) {
    const auto& own = kShapeKeys[static_cast<std::size_t>(kind)];
    for (const auto& other : kShapeKeys)
        for (const char* key : other.keys)
            if (key && !has_key(own, key))
                in.misplaced({key}, fmt::format("{} belongs to shape = \"{}\"", key, other.shape));
}

std::optional<RockBox> read_box(TableReader& in, const LayoutBuilder& builder) {
    RockBox box{Vec3::Zero(), Vec3::Zero()};
    const bool has_min = in.point("min", box.min_m, Need::required);
    const bool has_max = in.point("max", box.max_m, Need::required);
    if (!has_min || !has_max) return std::nullopt;
    if ((box.max_m - box.min_m).minCoeff() < kTouch_m) {
        in.error("max", fmt::format("{} must exceed min by at least 0.1 cm in x, y and z",
                                    in.label("max")));
        return std::nullopt;
    }
    const bool fits =
        rock_in_tank(in, "min", box.min_m, builder) && rock_in_tank(in, "max", box.max_m, builder);
    return fits ? std::optional(box) : std::nullopt;
}

std::optional<RockSlab> read_slab(TableReader& in, const LayoutBuilder& builder) {
    RockSlab slab{Vec3::Zero(), Vec3::Zero()};
    std::vector<double> size_m;
    const bool placed = in.point("centre", slab.centre_m, Need::required) &&
                        rock_in_tank(in, "centre", slab.centre_m, builder);
    const bool sized = in.lengths("size", size_m, 3, kRockSide, Need::required);
    in.quantity("tilt", slab.tilt_rad, kAngle, {-180.0, 180.0});
    in.quantity("azimuth", slab.azimuth_rad, kAngle, {-360.0, 360.0});
    if (!placed || !sized) return std::nullopt;
    slab.size_m = Vec3(size_m[0], size_m[1], size_m[2]);
    return slab;
}

std::optional<RockDome> read_dome(TableReader& in, const LayoutBuilder& builder) {
    RockDome dome{Vec3::Zero()};
    const bool placed = in.point("centre", dome.centre_m, Need::required) &&
                        rock_in_tank(in, "centre", dome.centre_m, builder);
    const bool wide = in.quantity("radius", dome.radius_m, kLength, kRockSide, Need::required);
    const bool high = in.quantity("height", dome.height_m, kLength, kRockSide, Need::required);
    return placed && wide && high ? std::optional(dome) : std::nullopt;
}

/// Reads the shape into the rock; false when there is none to put into the tank.
bool read_shape(TableReader& in, RockKind kind, Rock& rock, LayoutBuilder& builder) {
    const auto keep = [&](const auto& shape) {
        if (shape) rock.shape = *shape;
        return shape.has_value();
    };
    if (kind == RockKind::box) return keep(read_box(in, builder));
    if (kind == RockKind::slab) return keep(read_slab(in, builder));
    if (kind == RockKind::dome) return keep(read_dome(in, builder));
    return keep(read_rock_mesh(in, rock.name, builder));
}

void read_rock(TableReader& in, const std::string& name, LayoutBuilder& builder) {
    Rock rock{name, RockBox{Vec3::Zero(), Vec3::Zero()}};
    if (name == "sand")
        in.error("name", "a rock cannot be named \"sand\"",
                 "on = \"sand\" means the bed; give the rock another name");
    in.number("reflectance", rock.reflectance, kShare);
    in.choice<RestsOn>("rests_on", rock.rests_on,
                       {{"glass", RestsOn::glass},
                        {"sand", RestsOn::sand},
                        {"rock", RestsOn::rock},
                        {"wall", RestsOn::wall}});
    RockKind kind = RockKind::box;
    const bool known = in.choice<RockKind>("shape", kind,
                                           {{"box", RockKind::box},
                                            {"slab", RockKind::slab},
                                            {"dome", RockKind::dome},
                                            {"mesh", RockKind::mesh}},
                                           Need::required);
    if (known && read_shape(in, kind, rock, builder))
        builder.layout.rocks.push_back(std::move(rock));
    else
        builder.rocks_left_out.insert(name);
    if (known) refuse_keys_of_other_shapes(in, kind);
    if (known) return;
    for (const auto& shape : kShapeKeys)
        for (const char* key : shape.keys)
            if (key) in.node(key);
}

}  // namespace

void read_rocks(TableReader& top, LayoutBuilder& builder) {
    for_each_named(top, "rock", kMostRocks, [&](TableReader& item, const std::string& name) {
        read_rock(item, name, builder);
    });
}

}  // namespace bedshade
