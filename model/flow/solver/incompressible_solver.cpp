#include "model/flow/solver/incompressible_solver.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Safety factors on the largest stable steps of advection and diffusion.
constexpr double kAdvectionSafety = 0.4;
constexpr double kFrictionSafety = 0.4;

std::size_t part(int axis) { return static_cast<std::size_t>(axis); }

Velocity zero_velocity(const StaggeredGrid& grid) {
    const Field none(grid.size(), 0.0);
    return {none, none, none};
}

std::array<bool, 3> periodic_axes(const BoundaryConditions& sides) {
    return {sides.periodic(0), sides.periodic(1), sides.periodic(2)};
}

}  // namespace

IncompressibleSolver::IncompressibleSolver(const SolverCase& box, CarryTurbulence turbulence)
    : box_(box),
      sides_(box.grid, box.sides),
      solid_(solid_cells(box)),
      eddy_viscosity_(box, sides_, solid_),
      momentum_(box.grid),
      poisson_(box.grid, periodic_axes(sides_)),
      turbulence_(box.grid, solid_),
      carry_turbulence_(turbulence),
      free_{sides_.free_faces(0), sides_.free_faces(1), sides_.free_faces(2)},
      velocity_(zero_velocity(box.grid)),
      rate_(zero_velocity(box.grid)),
      last_rate_(zero_velocity(box.grid)),
      pressure_(box.grid.size(), 0.0),
      potential_(box.grid.size(), 0.0),
      packed_(static_cast<Eigen::Index>(box.grid.cell_count())) {
    find_solid_faces();
    for (const BodyForce& body_force : box.body_forces)
        body_forces_.emplace_back(body_force, box.grid, free_, solid_);
    sides_.set_side_velocity(velocity_);
}

void IncompressibleSolver::find_solid_faces() {
    for (int axis = 0; axis < 3; ++axis) {
        const auto s = static_cast<std::size_t>(grid().stride(axis));
        for_cells(free_[part(axis)], [&](const Cells& c) {
            const std::size_t face = grid().at(c);
            if (solid_[face] || solid_[face - s]) solid_faces_[part(axis)].push_back(face);
        });
    }
}

SolverState IncompressibleSolver::state() const {
    return {velocity_, pressure_, turbulence_.energy_m2_s2()};
}

void IncompressibleSolver::start_from(const SolverState& state) {
    velocity_ = state.velocity_m_s;
    turbulence_.set_energy_m2_s2(state.turbulence_m2_s2);
    last_dt_s_ = 0.0;
    zero_solid_faces();
    sides_.set_side_velocity(velocity_);
    project(1.0);
    pressure_ = state.pressure_m2_s2;
    sides_.fill_zero_gradient(pressure_);
}

double IncompressibleSolver::stable_step_s() const {
    double fastest = 0.0, largest_viscosity = 0.0;
    // Water at rest will soon reach the speed of the jets.
    for (const GridBodyForce& body_force : body_forces_)
        fastest = std::max(fastest, body_force.fastest_per_s());
    for_cells(all_cells(grid()), [&](const Cells& cell) {
        const std::size_t c = grid().at(cell);
        double crossing = 0.0;
        for (int a = 0; a < 3; ++a) {
            const Field& u = velocity_[part(a)];
            const auto s = static_cast<std::size_t>(grid().stride(a));
            crossing += std::max(std::abs(u[c]), std::abs(u[c + s])) / grid().cell_m[a];
        }
        fastest = std::max(fastest, crossing);
        largest_viscosity = std::max(largest_viscosity, eddy_viscosity_.viscosity().cell[c]);
    });
    const double diffusion =
        2.0 * largest_viscosity * grid().cell_m.cwiseAbs2().cwiseInverse().sum();
    return 1.0 / std::max(fastest / kAdvectionSafety + diffusion / kFrictionSafety, 1e-9);
}

void IncompressibleSolver::step(double dt_s) {
    sides_.fill(velocity_);
    eddy_viscosity_.update_walls(velocity_);
    std::swap(rate_, last_rate_);
    momentum_.compute(velocity_, eddy_viscosity_.viscosity(), free_, rate_);
    if (carry_turbulence_ == CarryTurbulence::yes)
        turbulence_.advance(velocity_, eddy_viscosity_.viscosity(), sides_, dt_s);
    predict(dt_s);
    for (GridBodyForce& body_force : body_forces_) body_force.apply(velocity_, dt_s);
    zero_solid_faces();
    sides_.set_side_velocity(velocity_);
    project(dt_s);
    last_dt_s_ = dt_s;
}

/// Adams-Bashforth for unequal steps; the first step is Euler's.
void IncompressibleSolver::predict(double dt_s) {
    const double extrapolation = last_dt_s_ > 0.0 ? 0.5 * dt_s / last_dt_s_ : 0.0;
    for (int a = 0; a < 3; ++a) {
        const std::ptrdiff_t s = grid().stride(a);
        const double per_m = 1.0 / grid().cell_m[a], force = box_.force_m_s2[a];
        for_rows(grid(), free_[part(a)], [&](std::ptrdiff_t first, std::ptrdiff_t length) {
            double* u = velocity_[part(a)].data() + first;
            const double* now = rate_[part(a)].data() + first;
            const double* previous = last_rate_[part(a)].data() + first;
            const double* p = pressure_.data() + first;
            for (std::ptrdiff_t i = 0; i < length; ++i)
                u[i] += dt_s * (now[i] + extrapolation * (now[i] - previous[i]) -
                                per_m * (p[i] - p[i - s]) + force);
        });
    }
}

void IncompressibleSolver::zero_solid_faces() {
    for (int a = 0; a < 3; ++a)
        for (const std::size_t face : solid_faces_[part(a)]) velocity_[part(a)][face] = 0.0;
}

/// Divergence times `scale`, packed.
void IncompressibleSolver::compute_divergence(double scale) {
    packed_.setZero();
    Eigen::Index cell = 0;
    for_rows(grid(), all_cells(grid()), [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        double* out = packed_.data() + cell;
        for (int a = 0; a < 3; ++a) {
            const std::ptrdiff_t s = grid().stride(a);
            const double per_m = scale / grid().cell_m[a];
            const double* u = velocity_[part(a)].data() + first;
            for (std::ptrdiff_t i = 0; i < length; ++i) out[i] += per_m * (u[i + s] - u[i]);
        }
        cell += length;
    });
}

void IncompressibleSolver::project(double dt_s) {
    compute_divergence(1.0 / dt_s);
    poisson_.solve(packed_);
    Eigen::Index cell = 0;
    for_rows(grid(), all_cells(grid()), [&](std::ptrdiff_t first, std::ptrdiff_t length) {
        for (std::ptrdiff_t i = first; i < first + length; ++i, ++cell) {
            potential_[static_cast<std::size_t>(i)] = packed_[cell];
            pressure_[static_cast<std::size_t>(i)] += packed_[cell];
        }
    });
    sides_.fill_zero_gradient(potential_);
    sides_.fill_zero_gradient(pressure_);
    subtract_gradient(dt_s);
    sides_.set_side_velocity(velocity_);
}

void IncompressibleSolver::subtract_gradient(double dt_s) {
    for (int a = 0; a < 3; ++a) {
        const std::ptrdiff_t s = grid().stride(a);
        const double per_m = dt_s / grid().cell_m[a];
        for_rows(grid(), free_[part(a)], [&](std::ptrdiff_t first, std::ptrdiff_t length) {
            double* u = velocity_[part(a)].data() + first;
            const double* phi = potential_.data() + first;
            for (std::ptrdiff_t i = 0; i < length; ++i) u[i] -= per_m * (phi[i] - phi[i - s]);
        });
    }
}

double IncompressibleSolver::largest_divergence_per_s() const {
    double largest = 0.0;
    for_cells(all_cells(grid()), [&](const Cells& cell) {
        const std::size_t c = grid().at(cell);
        double sum = 0.0;
        for (int a = 0; a < 3; ++a) {
            const Field& u = velocity_[part(a)];
            const auto s = static_cast<std::size_t>(grid().stride(a));
            sum += (u[c + s] - u[c]) / grid().cell_m[a];
        }
        largest = std::max(largest, std::abs(sum));
    });
    return largest;
}

}  // namespace bedshade
