// Checks of where things stand: in the tank, in rock, on something.
#pragma once

#include <string>
#include <vector>

#include "model/base/geometry.h"
#include "model/reef/layout.h"

#include "sim/input/layout/sections.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {

/// Places nearer than this are the same.
inline constexpr double kTouch_m = 1e-3;

/// "30 25 4 cm".
std::string describe_place(const Vec3& place_m);

/// Whether the place lies in the tank's water, ends included; reports an error at the key when it
/// does not. Says yes while the tank is unknown.
bool in_water(TableReader& item, const char* key, const Vec3& place_m,
              const LayoutBuilder& builder);
/// The same for a place of a rock, which may lie in the sand that the rock is set into.
bool rock_in_tank(TableReader& item, const char* key, const Vec3& place_m,
                  const LayoutBuilder& builder);
/// The same for a point on the floor.
bool over_floor(TableReader& item, const char* key, const Vec2& site_m,
                const LayoutBuilder& builder);

/// Rocks with their bounding boxes, to skip most of them quickly.
class RockIndex {
  public:
    explicit RockIndex(const std::vector<Rock>& rocks);
    /// The rock with the point more than `kTouch_m` inside it, or null.
    const Rock* around(const Vec3& place_m) const;
    /// Whether some rock comes within about `distance_m` of the place.
    bool any_near(const Vec3& place_m, double distance_m) const;

  private:
    const std::vector<Rock>& rocks_;
    std::vector<Box> bounds_;
};

/// The rock of that name, or null.
const Rock* rock_named(const std::vector<Rock>& rocks, const std::string& name);

}  // namespace bedshade
