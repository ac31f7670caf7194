// Definition of a flow problem in a box, for tanks and for benchmark cases alike.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "model/flow/solver/staggered_grid.h"
#include "model/flow/solver/wall_law.h"

namespace bedshade {

enum class SideKind {
    wall,      ///< impermeable, no slip
    slip,      ///< impermeable, free slip (a calm surface, a plane of symmetry)
    periodic,  ///< periodic (both sides of the axis must be)
    given,     ///< given velocity; inflow and outflow must balance
};

struct SideCondition {
    SideKind kind = SideKind::wall;
    /// Velocity of the wall (tangential) or of the water at a place of the side; none: at rest.
    std::function<Vec3(const Vec3&)> velocity_m_s;
    /// Friction of a wall whose boundary layer is thinner than a cell; none: it is resolved.
    std::optional<WallLaw> friction;
};

/// Sides of the box by number: 2 axis for the lower one, 2 axis + 1 for the upper.
inline constexpr std::size_t side_number(int axis, bool upper) {
    return 2 * static_cast<std::size_t>(axis) + (upper ? 1 : 0);
}

/// Body force along a direction with a given total thrust and the shape of a given flow: velocity
/// relaxes toward that flow times one scale factor, chosen so that the sum of the forces is the
/// thrust. Water faster than the scaled flow is not decelerated, so no force opposes the thrust.
struct BodyForce {
    std::function<Vec3(const Vec3&)> shape_m_s;
    std::function<double(const Vec3&)> weight;  ///< 1 where it is imposed, 0 where it is not
    Vec3 direction = Vec3::UnitX();
    double rate_per_s = 1.0;    ///< relaxation rate where the weight is 1
    double thrust_m4_s2 = 0.0;  ///< force over density
};

struct SolverCase {
    StaggeredGrid grid;
    std::array<SideCondition, 6> sides;
    std::function<double(const Vec3&)> viscosity_m2_s;  ///< molecular and eddy together
    std::function<bool(const Vec3&)> solid;             ///< none: all water
    std::optional<WallLaw> solid_friction;
    Vec3 force_m_s2 = Vec3::Zero();  ///< uniform, on all of the water
    std::vector<BodyForce> body_forces;
};

}  // namespace bedshade
