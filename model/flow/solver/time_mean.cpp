#include "model/flow/solver/time_mean.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

/// Square of the speed in a cell, from the mean squares of its faces.
double squared_speed(const StaggeredGrid& grid, const Velocity& velocity, std::size_t cell) {
    double square = 0.0;
    for (int a = 0; a < 3; ++a) {
        const Field& u = velocity[static_cast<std::size_t>(a)];
        const double low = u[cell], high = u[cell + static_cast<std::size_t>(grid.stride(a))];
        square += 0.5 * (low * low + high * high);
    }
    return square;
}

}  // namespace

TimeMean::TimeMean(const StaggeredGrid& grid) : grid_(grid), square_sum_m2_s_(grid.size(), 0.0) {
    sum_m_.fill(square_sum_m2_s_);
}

void TimeMean::add(const IncompressibleSolver& flow, double time_s) {
    const Velocity& now = flow.velocity_m_s();
    for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t f = 0; f < sum_m_[a].size(); ++f) sum_m_[a][f] += time_s * now[a][f];
    const Field& energy = flow.turbulence_m2_s2();
    for_cells(all_cells(grid_), [&](const Cells& c) {
        const std::size_t at = grid_.at(c);
        square_sum_m2_s_[at] += time_s * (squared_speed(grid_, now, at) + 2.0 * energy[at]);
    });
    time_s_ += time_s;
}

Velocity TimeMean::velocity_m_s() const {
    Velocity mean = sum_m_;
    for (Field& component : mean)
        for (double& u : component) u /= time_s_;
    return mean;
}

Field TimeMean::fluctuation_speed_m_s() const {
    const Velocity mean = velocity_m_s();
    Field speed(grid_.size(), 0.0);
    for_cells(all_cells(grid_), [&](const Cells& c) {
        const std::size_t at = grid_.at(c);
        const double rest = square_sum_m2_s_[at] / time_s_ - squared_speed(grid_, mean, at);
        speed[at] = std::sqrt(std::max(rest, 0.0));
    });
    return speed;
}

}  // namespace bedshade
