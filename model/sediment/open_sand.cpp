#include "model/sediment/open_sand.h"

namespace bedshade {
namespace {

constexpr double kJustAboveSand_m = 1e-3;

bool covers(const Rock& rock, const Vec2& spot_m) {
    return inside(rock, Vec3(spot_m.x(), spot_m.y(), kJustAboveSand_m));
}

}  // namespace

bool open_sand(const Vec2& spot_m, const Tank& tank, const std::vector<Rock>& rocks) {
    if (spot_m.x() < 0.0 || spot_m.y() < 0.0 || spot_m.x() > tank.length_m ||
        spot_m.y() > tank.width_m)
        return false;
    for (const auto& rock : rocks)
        if (covers(rock, spot_m)) return false;
    return true;
}

}  // namespace bedshade
