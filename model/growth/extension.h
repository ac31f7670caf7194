// Outward growth: how far a colony's outline and top advance in one step, and what stops them.
#pragma once

#include <array>
#include <cstdint>

#include "model/base/geometry.h"
#include "model/growth/surroundings.h"
#include "model/reef/reef.h"

namespace bedshade {

/// What stops growth in a direction.
enum class Obstacle : std::uint8_t {
    none,
    glass,
    surface,
    rock,
    colony,
    size_limit,
    sand,  ///< of a grain it cannot spread over, or sand that buries its tilted rim
    edge,  ///< the edge of the rock it spreads over
};

struct Hindrance {
    Obstacle what = Obstacle::none;
    int colony = -1;  ///< the other colony, if that is the obstacle
};

struct Extension {
    RadialProfile radius_m{};               ///< outline after the step
    double height_m = 0.0;                  ///< height after the step
    std::array<Hindrance, kSectors> met{};  ///< obstacle by sector; none where growth was free
    Hindrance met_above;                    ///< obstacle above
};

/// Gaps kept from glass, from the water surface and from a neighbour [m].
inline constexpr double kGlassGap_m = 0.005;
inline constexpr double kSurfaceGap_m = 0.01;
inline constexpr double kColonyGap_m = 0.002;

/// Whether a point is nearer to the glass of a side than kGlassGap_m.
bool at_glass(const Tank& tank, const Vec3& point_m);

/// One step of growth of colony `colony` over `dt_d` days: in each sector the radius gains rate *
/// growth_factor * share * dt, whatever its size (Dornelas et al. 2017 and Madin's outline data:
/// increment independent of size in 10 of 11 species), until its rim meets an obstacle.
///
/// `share` is the growth fraction of each sector, 0 to 1. The height gains vertical_per_radial
/// times the mean of the unobstructed gains, since a crowded coral still grows upward. The
/// neighbours are those of the last `set_colonies()`, so the order in which colonies grow does not
/// matter; two that close a gap from both sides overlap by at most one step's gain. The path is
/// tested every 5 mm, so nothing thicker is passed through. Cuttings of one individual keep no gap
/// between them.
Extension extend(const Surroundings& around, int colony, const ColonyState& state,
                 const RadialProfile& share, double dt_d);

}  // namespace bedshade
