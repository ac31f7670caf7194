#include "tests/cases/cavity.h"

#include <algorithm>
#include <cmath>

namespace bedshade::cases {
namespace {

/// The lid is the upper y side and moves along x at 1 m/s; a box one cell deep is a plane flow.
SolverCase cavity(int cells, int deep, double reynolds) {
    SolverCase box;
    box.grid.cells = {cells, cells, deep};
    box.grid.cell_m = Vec3(1.0 / cells, 1.0 / cells, 1.0 / deep);
    box.viscosity_m2_s = [=](const Vec3&) { return 1.0 / reynolds; };
    box.sides[side_number(1, true)].velocity_m_s = [](const Vec3&) { return Vec3(1.0, 0.0, 0.0); };
    if (deep == 1)
        box.sides[side_number(2, false)].kind = box.sides[side_number(2, true)].kind =
            SideKind::slip;
    return box;
}

void run(IncompressibleSolver& flow, double time_s) {
    double dt = 0.0, time = 0.0;
    for (int step = 0; time < time_s; ++step, time += dt) {
        if (step % 10 == 0) dt = flow.stable_step_s();
        flow.step(dt);
    }
}

/// A velocity component at cell or face (i, j), at mid-depth.
double in_middle(const IncompressibleSolver& flow, std::size_t component, int i, int j) {
    const Field& q = flow.velocity_m_s()[component];
    const int deep = flow.grid().cells[2];
    return 0.5 * (q[flow.grid().at({i, j, deep / 2})] + q[flow.grid().at({i, j, (deep - 1) / 2})]);
}

/// On the two centre lines; the number of cells is even, so that faces lie on them.
CavityExtremes extremes(const IncompressibleSolver& flow) {
    const int n = flow.grid().cells[0];
    CavityExtremes found;
    for (int j = 0; j < n; ++j) {
        found.least_u = std::min(found.least_u, in_middle(flow, 0, n / 2, j));
        found.most_v = std::max(found.most_v, in_middle(flow, 1, j, n / 2));
        found.least_v = std::min(found.least_v, in_middle(flow, 1, j, n / 2));
    }
    return found;
}

const std::vector<CubeStation> kCubeU = {
    {0.9766, 0.58964},  {0.9531, 0.33171},  {0.8516, 0.12183},  {0.7344, 0.07334},
    {0.6172, 0.03905},  {0.5000, 0.00802},  {0.4531, -0.00612}, {0.2813, -0.10999},
    {0.1719, -0.25160}, {0.1016, -0.27293}, {0.0703, -0.23696}, {0.0547, -0.20623}};
const std::vector<CubeStation> kCubeV = {{0.0625, 0.21738},  {0.0938, 0.24407},  {0.1563, 0.22924},
                                         {0.2344, 0.16987},  {0.5000, 0.03674},  {0.8047, -0.15223},
                                         {0.8594, -0.31117}, {0.9063, -0.43423}, {0.9453, -0.33511},
                                         {0.9688, -0.18864}};

/// A component on its centre line, linearly interpolated between cell centres.
double at_station(const IncompressibleSolver& flow, std::size_t component, double place) {
    const int n = flow.grid().cells[0];
    const double along = place * n - 0.5;
    const int first = std::clamp(static_cast<int>(std::floor(along)), 0, n - 2);
    const auto value = [&](int i) {
        return component == 0 ? in_middle(flow, 0, n / 2, i) : in_middle(flow, 1, i, n / 2);
    };
    return value(first) + (along - first) * (value(first + 1) - value(first));
}

}  // namespace

CavityResult plane_cavity(int cells, double reynolds, double time_s) {
    IncompressibleSolver flow(cavity(cells, 1, reynolds));
    run(flow, time_s);
    return {extremes(flow), flow.largest_divergence_per_s()};
}

double CubeResult::largest_off() const {
    double largest = 0.0;
    for (const auto* line : {&u, &v})
        for (const CubeStation& s : *line)
            largest = std::max(largest, std::abs(s.found - s.published));
    return largest;
}

double CubeResult::rms_off() const {
    double squares = 0.0;
    for (const auto* line : {&u, &v})
        for (const CubeStation& s : *line) squares += std::pow(s.found - s.published, 2);
    return std::sqrt(squares / static_cast<double>(u.size() + v.size()));
}

CubeResult driven_cube(int cells, double time_s) {
    IncompressibleSolver flow(cavity(cells, cells, 1000.0));
    run(flow, time_s);
    CubeResult result{kCubeU, kCubeV};
    for (CubeStation& s : result.u) s.found = at_station(flow, 0, s.place);
    for (CubeStation& s : result.v) s.found = at_station(flow, 1, s.place);
    return result;
}

}  // namespace bedshade::cases
