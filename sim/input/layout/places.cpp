#include "sim/input/layout/places.h"

#include <algorithm>
#include <fmt/format.h>

namespace bedshade {
namespace {

bool between(double value, double low, double high) {
    return value >= low - kTouch_m && value <= high + kTouch_m;
}

std::string tank_in_words(const Tank& tank) {
    return fmt::format("{} by {} cm with {} cm of water", format_number(100.0 * tank.length_m),
                       format_number(100.0 * tank.width_m),
                       format_number(100.0 * tank.water_depth_m));
}

/// The six neighbours of a place along the axes, then the eight along the diagonals.
std::vector<Vec3> neighbours(const Vec3& place_m, double distance_m) {
    std::vector<Vec3> found;
    for (int axis = 0; axis < 3; ++axis)
        for (const double sign : {-1.0, 1.0})
            found.emplace_back(place_m + sign * distance_m * Vec3::Unit(axis));
    for (const double x : {-1.0, 1.0})
        for (const double y : {-1.0, 1.0})
            for (const double z : {-1.0, 1.0})
                found.emplace_back(place_m + distance_m * Vec3(x, y, z).normalized());
    return found;
}

/// More than `kTouch_m` below every face: what stands on a rock or hangs at its side touches it.
bool deep_inside(const Rock& rock, const Vec3& place_m) {
    const auto around = neighbours(place_m, kTouch_m);
    return std::all_of(around.begin(), around.end(), [&](const Vec3& p) {
        // A thing at the foot of a rock that rests on the sand is as deep in it as one higher up.
        return p.z() < place_m.z() || inside(rock, p);
    });
}

}  // namespace

std::string describe_place(const Vec3& place_m) {
    return fmt::format("{} {} {} cm", format_number(100.0 * place_m.x()),
                       format_number(100.0 * place_m.y()), format_number(100.0 * place_m.z()));
}

bool in_water(TableReader& item, const char* key, const Vec3& p, const LayoutBuilder& builder) {
    if (!builder.has_tank()) return true;
    const Tank& tank = builder.layout.tank;
    if (between(p.x(), 0.0, tank.length_m) && between(p.y(), 0.0, tank.width_m) &&
        between(p.z(), 0.0, tank.water_depth_m))
        return true;
    const char* problem = p.z() < -kTouch_m                       ? "below the sand surface"
                          : p.z() > tank.water_depth_m + kTouch_m ? "above the water"
                                                                  : "outside the tank";
    item.error(key, fmt::format("{} is at {}, {}", item.label(key), describe_place(p), problem),
               fmt::format("the tank is {}; positions count from its front left corner and from "
                           "the sand surface up",
                           tank_in_words(tank)));
    return false;
}

bool rock_in_tank(TableReader& item, const char* key, const Vec3& place_m,
                  const LayoutBuilder& builder) {
    Vec3 raised = place_m;
    if (raised.z() >= -builder.layout.substrate.depth_m - kTouch_m)
        raised.z() = std::max(0.0, raised.z());
    return in_water(item, key, raised, builder);
}

bool over_floor(TableReader& item, const char* key, const Vec2& site_m,
                const LayoutBuilder& builder) {
    if (!builder.has_tank()) return true;
    const Tank& tank = builder.layout.tank;
    if (between(site_m.x(), 0.0, tank.length_m) && between(site_m.y(), 0.0, tank.width_m))
        return true;
    item.error(key,
               fmt::format("{} is at {} {} cm, outside the tank", item.label(key),
                           format_number(100.0 * site_m.x()), format_number(100.0 * site_m.y())),
               fmt::format("the tank is {}; positions count from its front left corner",
                           tank_in_words(tank)));
    return false;
}

RockIndex::RockIndex(const std::vector<Rock>& rocks) : rocks_(rocks) {
    for (const auto& rock : rocks) bounds_.push_back(bounds_of(rock));
}

const Rock* RockIndex::around(const Vec3& place_m) const {
    for (std::size_t i = 0; i < rocks_.size(); ++i)
        if (bounds_[i].contains(place_m) && deep_inside(rocks_[i], place_m)) return &rocks_[i];
    return nullptr;
}

bool RockIndex::any_near(const Vec3& place_m, double distance_m) const {
    const Vec3 reach = Vec3::Constant(distance_m);
    std::vector<Vec3> spots;
    for (std::size_t i = 0; i < rocks_.size(); ++i) {
        if (!Box{bounds_[i].min - reach, bounds_[i].max + reach}.contains(place_m)) continue;
        if (spots.empty()) spots = neighbours(place_m, distance_m);
        for (const auto& spot : spots)
            if (inside(rocks_[i], spot)) return true;
    }
    return false;
}

const Rock* rock_named(const std::vector<Rock>& rocks, const std::string& name) {
    const auto found = std::find_if(rocks.begin(), rocks.end(),
                                    [&](const Rock& rock) { return rock.name == name; });
    return found == rocks.end() ? nullptr : &*found;
}

}  // namespace bedshade
