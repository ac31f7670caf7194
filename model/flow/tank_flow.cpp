#include "model/flow/tank_flow.h"

#include <algorithm>
#include <cmath>

#include "model/flow/solver/incompressible_solver.h"
#include "model/flow/solver/time_mean.h"

namespace bedshade {
namespace {

/// Turnover times: from rest on the coarse grid, spin-up on the fine grid, averaging.
constexpr double kCoarseTurnovers = 8.0, kSpinUpTurnovers = 1.5, kMeanTurnovers = 2.0;
/// Steps between updates of the time step and of the mean.
constexpr int kStepsPerSample = 5;
/// A tank of 16,000 cells takes about half of these. Only very flat tanks or very weak pumps, whose
/// water hardly moves, need more.
constexpr int kMaxSamples = 1600;

void run(IncompressibleSolver& flow, double time_s, TimeMean* mean) {
    double time = 0.0;
    for (int sample = 0; sample < kMaxSamples && time < time_s; ++sample) {
        const double dt = flow.stable_step_s();
        for (int i = 0; i < kStepsPerSample; ++i) flow.step(dt);
        if (mean) mean->add(flow, kStepsPerSample * dt);
        time += kStepsPerSample * dt;
    }
}

/// Interpolation between values at unit spacing, the first at 0: the two nearest and the weight of
/// the second.
struct Between {
    int low, high;
    double to_high;
};
Between between(double place, int last) {
    const double inside = std::clamp(place, 0.0, static_cast<double>(last));
    const int low = std::min(static_cast<int>(inside), std::max(last - 1, 0));
    return {low, std::min(low + 1, last), inside - low};
}

/// Trilinear interpolation of values, the first at `first_m`, the last with index `last`; only
/// values that are `usable` (not in rock) are used.
template <class Usable>
double interpolated(const StaggeredGrid& grid, const Field& values, const Vec3& first_m,
                    const Cells& last, const Vec3& point_m, const Usable& usable) {
    std::array<Between, 3> near{};
    for (int a = 0; a < 3; ++a)
        near[static_cast<std::size_t>(a)] =
            between((point_m[a] - first_m[a]) / grid.cell_m[a], last[static_cast<std::size_t>(a)]);
    double sum = 0.0, weights = 0.0;
    for (int corner = 0; corner < 8; ++corner) {
        Cells cell{};
        double weight = 1.0;
        for (std::size_t a = 0; a < 3; ++a) {
            const bool high = (corner >> a & 1) != 0;
            cell[a] = high ? near[a].high : near[a].low;
            weight *= high ? near[a].to_high : 1.0 - near[a].to_high;
        }
        const std::size_t at = grid.at(cell);
        if (!usable(at)) continue;
        sum += weight * values[at];
        weights += weight;
    }
    return weights > 1e-9 ? sum / weights : 0.0;
}

/// The flow of a coarse grid, interpolated to a fine one as the initial state.
SolverState interpolated_to(const IncompressibleSolver& fine, const TankFlow& coarse,
                            const Field& coarse_energy) {
    SolverState start = fine.state();
    const StaggeredGrid& grid = fine.grid();
    for_cells(all_cells(grid), [&](const Cells& c) {
        for (int a = 0; a < 3; ++a)
            start.velocity_m_s[static_cast<std::size_t>(a)][grid.at(c)] =
                velocity_at_m_s(coarse, grid.face_centre_m(a, c))[a];
        Cells last = coarse.grid.cells;
        for (int& n : last) --n;
        start.turbulence_m2_s2[grid.at(c)] =
            interpolated(coarse.grid, coarse_energy, coarse.grid.cell_centre_m({0, 0, 0}), last,
                         grid.cell_centre_m(c), [](std::size_t) { return true; });
    });
    return start;
}

TankFlow still_water(const StaggeredGrid& grid) {
    const Field none(grid.size(), 0.0);
    return {grid, {none, none, none}, none, std::vector<bool>(grid.size(), false)};
}

}  // namespace

TankFlow solve_tank_flow(const FlowScene& scene, const std::vector<bool>& running,
                         double largest_cell_m) {
    if (running_pumps(scene, running).empty())
        return still_water(tank_grid(scene.tank, largest_cell_m));
    const double turnover = turnover_s(scene, running);
    IncompressibleSolver coarse(tank_case(scene, running, 2.0 * largest_cell_m),
                                CarryTurbulence::yes);
    run(coarse, kCoarseTurnovers * turnover, nullptr);
    IncompressibleSolver flow(tank_case(scene, running, largest_cell_m), CarryTurbulence::yes);
    flow.start_from(interpolated_to(flow,
                                    {coarse.grid(), coarse.velocity_m_s(), {}, coarse.solid()},
                                    coarse.turbulence_m2_s2()));
    run(flow, kSpinUpTurnovers * turnover, nullptr);
    TimeMean mean(flow.grid());
    run(flow, kMeanTurnovers * turnover, &mean);
    return {flow.grid(), mean.velocity_m_s(), mean.fluctuation_speed_m_s(), flow.solid()};
}

Vec3 velocity_at_m_s(const TankFlow& flow, const Vec3& point_m) {
    Vec3 velocity = Vec3::Zero();
    for (int a = 0; a < 3; ++a) {
        const auto part = static_cast<std::size_t>(a);
        const auto stride = static_cast<std::size_t>(flow.grid.stride(a));
        Cells last = flow.grid.cells;
        for (std::size_t b = 0; b < 3; ++b) last[b] -= b == part ? 0 : 1;
        velocity[a] = interpolated(
            flow.grid, flow.velocity_m_s[part], flow.grid.face_centre_m(a, {0, 0, 0}), last,
            point_m, [&](std::size_t f) { return !flow.solid[f] && !flow.solid[f - stride]; });
    }
    return velocity;
}

double turbulent_speed_at_m_s(const TankFlow& flow, const Vec3& point_m) {
    Cells last = flow.grid.cells;
    for (int& n : last) --n;
    return interpolated(flow.grid, flow.turbulent_speed_m_s, flow.grid.cell_centre_m({0, 0, 0}),
                        last, point_m, [&](std::size_t c) { return !flow.solid[c]; });
}

}  // namespace bedshade
