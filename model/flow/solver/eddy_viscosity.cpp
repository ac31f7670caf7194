#include "model/flow/solver/eddy_viscosity.h"

#include <cmath>

namespace bedshade {
namespace {

std::size_t part(int axis) { return static_cast<std::size_t>(axis); }

int third_axis(int a, int b) { return 3 - a - b; }

CellRange padded_cells(const StaggeredGrid& grid) {
    CellRange range = all_cells(grid);
    for (int a = 0; a < 3; ++a) {
        range.low[part(a)] = -StaggeredGrid::kGhosts;
        range.high[part(a)] = grid.padded(a) - StaggeredGrid::kGhosts;
    }
    return range;
}

}  // namespace

std::vector<bool> solid_cells(const SolverCase& box) {
    std::vector<bool> solid(box.grid.size(), false);
    if (!box.solid) return solid;
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        solid[box.grid.at(c)] = box.solid(box.grid.cell_centre_m(c));
    });
    return solid;
}

EddyViscosity::EddyViscosity(const SolverCase& box, const BoundaryConditions& sides,
                             const std::vector<bool>& solid)
    : box_(box) {
    viscosity_.cell.resize(box.grid.size());
    for_cells(all_cells(box.grid), [&](const Cells& c) {
        viscosity_.cell[box.grid.at(c)] = box.viscosity_m2_s(box.grid.cell_centre_m(c));
    });
    sides.fill_zero_gradient(viscosity_.cell);
    average_to_edges();
    for (int axis = 0; axis < 3; ++axis)
        for (const bool upper : {false, true}) add_side(sides, axis, upper);
    if (box_.solid && box_.solid_friction) add_solids(sides, solid);
}

/// The mean of the four cells that meet at an edge.
void EddyViscosity::average_to_edges() {
    const StaggeredGrid& grid = box_.grid;
    CellRange range = padded_cells(grid);
    for (auto& low : range.low) ++low;
    for (int e = 0; e < 3; ++e) {
        const std::ptrdiff_t b = grid.stride((e + 1) % 3), c = grid.stride((e + 2) % 3);
        Field& edge = viscosity_.edge[part(e)];
        edge.assign(grid.size(), 0.0);
        for_rows(grid, range, [&](std::ptrdiff_t at, std::ptrdiff_t length) {
            const double* nu = viscosity_.cell.data() + at;
            for (std::ptrdiff_t i = 0; i < length; ++i)
                edge[static_cast<std::size_t>(at + i)] =
                    0.25 * (nu[i] + nu[i - b] + nu[i - c] + nu[i - b - c]);
        });
    }
}

void EddyViscosity::add_side(const BoundaryConditions& sides, int axis, bool upper) {
    const SideCondition& side = box_.sides[side_number(axis, upper)];
    if (side.kind != SideKind::wall || !side.friction) return;
    const StaggeredGrid& grid = box_.grid;
    for (int component = 0; component < 3; ++component) {
        if (component == axis) continue;
        CellRange range = sides.free_faces(component);
        range.low[part(axis)] = upper ? grid.count(axis) : 0;
        range.high[part(axis)] = range.low[part(axis)] + 1;
        const std::ptrdiff_t inward = upper ? -grid.stride(axis) : 0;
        for_cells(range, [&](const Cells& c) {
            const std::size_t edge = grid.at(c);
            walls_.push_back({component, axis, edge,
                              static_cast<std::size_t>(static_cast<std::ptrdiff_t>(edge) + inward),
                              grid.cell_m[axis] / (1.0 - kFrictionGhost), &*side.friction});
        });
    }
}

/// Edges between a face in the water and one that is solid.
void EddyViscosity::add_solids(const BoundaryConditions& sides, const std::vector<bool>& solid) {
    const StaggeredGrid& grid = box_.grid;
    for (int component = 0; component < 3; ++component)
        for (int axis = 0; axis < 3; ++axis) {
            if (component == axis) continue;
            const auto s = static_cast<std::size_t>(grid.stride(axis));
            const auto c = static_cast<std::size_t>(grid.stride(component));
            const auto at_rest = [&](std::size_t face) { return solid[face] || solid[face - c]; };
            CellRange range = sides.free_faces(component);
            range.low[part(axis)] = 1;
            for_cells(range, [&](const Cells& cell) {
                const std::size_t edge = grid.at(cell);
                if (at_rest(edge) == at_rest(edge - s)) return;
                walls_.push_back({component, axis, edge, at_rest(edge) ? edge - s : edge,
                                  grid.cell_m[axis], &*box_.solid_friction});
            });
        }
}

double EddyViscosity::speed_along_m_s(const Velocity& velocity, const WallEdge& wall) const {
    const int other = third_axis(wall.component, wall.normal);
    const auto c = static_cast<std::size_t>(box_.grid.stride(wall.component));
    const auto o = static_cast<std::size_t>(box_.grid.stride(other));
    const Field& w = velocity[part(other)];
    const std::size_t at = wall.beside;
    return std::hypot(velocity[part(wall.component)][at],
                      0.25 * (w[at] + w[at + o] + w[at - c] + w[at - c + o]));
}

void EddyViscosity::update_walls(const Velocity& velocity) {
    for (const WallEdge& wall : walls_) {
        const double speed = speed_along_m_s(velocity, wall);
        const double distance_m = 0.5 * box_.grid.cell_m[wall.normal];
        const int along = third_axis(wall.component, wall.normal);
        viscosity_.edge[part(along)][wall.edge] =
            wall.scale_m * wall_friction_velocity_m_s(*wall.law, speed, distance_m);
    }
}

}  // namespace bedshade
