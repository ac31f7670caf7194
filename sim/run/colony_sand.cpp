#include "sim/run/colony_sand.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "model/sediment/sediment_rejection.h"

namespace bedshade {
namespace {

void add(std::vector<SandShare>& by, SandShare::Kind kind, const std::vector<double>& mass,
         double total) {
    for (std::size_t i = 0; i < mass.size(); ++i)
        if (mass[i] > 0.0) by.push_back({kind, static_cast<int>(i), mass[i] / total});
}

double sum(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0);
}

}  // namespace

Vec3 top_of(const ColonyState& state) { return state.position_m + Vec3(0.0, 0.0, state.height_m); }

std::vector<FlowBody> flow_bodies(const Reef& reef) {
    std::vector<FlowBody> bodies;
    for (const ColonyState& state : reef.colonies)
        bodies.push_back(
            state.present
                ? FlowBody{state.position_m, 0.5 * mean_diameter_m(state.radius_m), state.height_m}
                : FlowBody{});
    return bodies;
}

bool similar_bodies(const std::vector<FlowBody>& some, const std::vector<FlowBody>& others) {
    constexpr double kAlike_m = 0.01;
    return std::equal(some.begin(), some.end(), others.begin(), others.end(),
                      [](const FlowBody& a, const FlowBody& b) {
                          return (a.base_m - b.base_m).norm() < kAlike_m &&
                                 std::abs(a.radius_m - b.radius_m) < kAlike_m &&
                                 std::abs(a.height_m - b.height_m) < kAlike_m;
                      });
}

ColonySand colony_sand(const BedSand& plan, const Taxon& taxon, const ColonyState& state,
                       double wake, const std::vector<BioturbationEvent>& events, double from_d,
                       double to_d) {
    const SandReceptor receptor{top_of(state), 0.5 * mean_diameter_m(state.radius_m)};
    SteadySand steady = plan.steady(receptor);
    steady.flow_speed_m_s *= wake;
    ColonySand sand;
    sand.flow_speed_m_s = steady.flow_speed_m_s;
    sand.sand_step.from_d = from_d;
    sand.sand_step.to_d = to_d;
    sand.sand_step.deposition_kg_m2_d = steady.deposition_kg_m2_d();
    sand.sand_step.kept_share = taxon.sand_trap;
    sand.sand_step.rejection_per_d =
        rejection_rate_per_d(taxon, steady.flow_speed_m_s, state.reserve);
    sand.sand_step.burial_d = taxon.burial_d;
    if (digs_itself_out(taxon, state.reserve)) sand.sand_step.digs_out_d = kDigsOut_d;
    const double days = to_d - from_d;
    std::vector<double> by_pump = steady.by_pump_kg_m2_d, by_inhabitant;
    if (days > 0.0) {
        sand.sand_step.deposits = plan.deposits(receptor, events);
        by_inhabitant = plan.sources(steady, sand.sand_step.deposits, days).by_inhabitant_kg_m2;
        for (double& mass : by_inhabitant) mass /= days;
    } else {
        by_inhabitant = plan.mean_by_inhabitant_kg_m2_d(receptor);
    }
    const double total = sand.sand_step.deposition_kg_m2_d + sum(by_inhabitant);
    sand.deposition_kg_m2_d = total;
    if (total > 0.0) {
        add(sand.sand_by, SandShare::Kind::pump, by_pump, total);
        add(sand.sand_by, SandShare::Kind::inhabitant, by_inhabitant, total);
        std::stable_sort(sand.sand_by.begin(), sand.sand_by.end(),
                         [](const SandShare& a, const SandShare& b) { return a.share > b.share; });
    }
    return sand;
}

}  // namespace bedshade
