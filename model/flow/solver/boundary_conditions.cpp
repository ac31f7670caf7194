#include "model/flow/solver/boundary_conditions.h"

#include <algorithm>

namespace bedshade {
namespace {

/// Calls `body(index, place)` for each line across the box along `axis`, ghost lines included:
/// `index` is that of the line's cell 0, `place` the number of the line.
template <class Body>
void for_lines(const StaggeredGrid& grid, int axis, const Body& body) {
    const int b = axis == 0 ? 1 : 0, c = axis == 2 ? 1 : 2;
    std::size_t place = 0;
    for (int k = 0; k < grid.padded(c); ++k)
        for (int j = 0; j < grid.padded(b); ++j)
            body(StaggeredGrid::kGhosts * grid.stride(axis) + j * grid.stride(b) +
                     k * grid.stride(c),
                 place++);
}

std::size_t lines(const StaggeredGrid& grid, int axis) {
    return grid.size() / static_cast<std::size_t>(grid.padded(axis));
}

int wrapped(int i, int n) { return ((i % n) + n) % n; }

}  // namespace

/// One line of values along an axis; `step` is negative at upper sides, so that both sides are
/// treated alike.
struct BoundaryConditions::Line {
    double* first;
    std::ptrdiff_t step;
    double& operator[](int i) const { return first[i * step]; }
};

BoundaryConditions::BoundaryConditions(const StaggeredGrid& grid,
                                       const std::array<SideCondition, 6>& sides)
    : grid_(grid), sides_(sides) {
    for (std::size_t side = 0; side < 6; ++side)
        if (sides_[side].velocity_m_s) store_velocity(side);
}

void BoundaryConditions::store_velocity(std::size_t side) {
    const int axis = static_cast<int>(side / 2);
    const int at = side % 2 == 1 ? grid_.count(axis) : 0;
    const int b = axis == 0 ? 1 : 0, c = axis == 2 ? 1 : 2;
    for (int component = 0; component < 3; ++component) {
        Field& values = values_[side][static_cast<std::size_t>(component)];
        values.reserve(lines(grid_, axis));
        Cells cell{};
        cell[static_cast<std::size_t>(axis)] = at;
        for (int k = 0; k < grid_.padded(c); ++k)
            for (int j = 0; j < grid_.padded(b); ++j) {
                cell[static_cast<std::size_t>(b)] = j - StaggeredGrid::kGhosts;
                cell[static_cast<std::size_t>(c)] = k - StaggeredGrid::kGhosts;
                Vec3 place = grid_.face_centre_m(component, cell);
                place[axis] = grid_.origin_m[axis] + at * grid_.cell_m[axis];
                values.push_back(sides_[side].velocity_m_s(place)[component]);
            }
    }
}

double BoundaryConditions::value(std::size_t side, int component, std::size_t place) const {
    const Field& values = values_[side][static_cast<std::size_t>(component)];
    return values.empty() ? 0.0 : values[place];
}

void BoundaryConditions::fill_normal(Field& velocity, int axis) const {
    const int n = grid_.count(axis);
    const std::ptrdiff_t step = grid_.stride(axis);
    for (const bool upper : {false, true}) {
        const std::size_t side = side_number(axis, upper);
        const SideKind kind = sides_[side].kind;
        for_lines(grid_, axis, [&](std::ptrdiff_t index, std::size_t place) {
            const Line u{&velocity[static_cast<std::size_t>(index + (upper ? n * step : 0))],
                         upper ? -step : step};
            if (kind == SideKind::periodic) {
                const Line all{&velocity[static_cast<std::size_t>(index)], step};
                if (upper) all[n] = all[0];
                for (int g = 1; g <= StaggeredGrid::kGhosts; ++g)
                    u[-g] = all[wrapped(upper ? n + g : -g, n)];
                return;
            }
            u[0] = value(side, axis, place);
            // Beside a wall the normal velocity grows as the square of the distance; at a plane of
            // symmetry it changes sign.
            const double parity = kind == SideKind::wall ? 1.0 : -1.0;
            for (int g = 1; g <= StaggeredGrid::kGhosts; ++g) {
                const double inner = u[std::min(g, n)];
                u[-g] = kind == SideKind::given ? 2.0 * u[0] - inner : parity * inner;
            }
        });
    }
}

void BoundaryConditions::fill_tangential(Field& velocity, int axis, int component) const {
    const int n = grid_.count(axis);
    const std::ptrdiff_t step = grid_.stride(axis);
    for (const bool upper : {false, true}) {
        const std::size_t side = side_number(axis, upper);
        const SideKind kind = sides_[side].kind;
        for_lines(grid_, axis, [&](std::ptrdiff_t index, std::size_t place) {
            const Line q{&velocity[static_cast<std::size_t>(index + (upper ? (n - 1) * step : 0))],
                         upper ? -step : step};
            const double twice = 2.0 * value(side, component, place);
            for (int g = 1; g <= StaggeredGrid::kGhosts; ++g) {
                const double inner = q[std::min(g - 1, n - 1)];
                if (kind == SideKind::periodic)
                    q[-g] = q[wrapped(-g, n)];
                else if (sides_[side].friction)
                    q[-g] = kFrictionGhost * inner;
                else
                    q[-g] = kind == SideKind::slip ? inner : twice - inner;
            }
        });
    }
}

void BoundaryConditions::set_side_velocity(Velocity& velocity) const {
    for (int axis = 0; axis < 3; ++axis)
        fill_normal(velocity[static_cast<std::size_t>(axis)], axis);
}

void BoundaryConditions::fill(Velocity& velocity) const {
    for (int axis = 0; axis < 3; ++axis)
        for (int component = 0; component < 3; ++component) {
            Field& field = velocity[static_cast<std::size_t>(component)];
            if (component == axis)
                fill_normal(field, axis);
            else
                fill_tangential(field, axis, component);
        }
}

void BoundaryConditions::fill_zero_gradient(Field& cell_values) const {
    for (int axis = 0; axis < 3; ++axis) {
        const int n = grid_.count(axis);
        const std::ptrdiff_t step = grid_.stride(axis);
        for_lines(grid_, axis, [&](std::ptrdiff_t index, std::size_t /*place*/) {
            const Line q{&cell_values[static_cast<std::size_t>(index)], step};
            for (int g = 1; g <= StaggeredGrid::kGhosts; ++g) {
                q[-g] = q[periodic(axis) ? wrapped(-g, n) : std::min(g - 1, n - 1)];
                q[n - 1 + g] = q[periodic(axis) ? wrapped(n - 1 + g, n) : std::max(n - g, 0)];
            }
        });
    }
}

CellRange BoundaryConditions::free_faces(int axis) const {
    CellRange range = all_cells(grid_);
    if (!periodic(axis)) range.low[static_cast<std::size_t>(axis)] = 1;
    return range;
}

}  // namespace bedshade
