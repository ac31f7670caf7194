// Sand budget of a whole layout.
#include "model/sediment/bed_sand.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <memory>
#include <numeric>

#include "model/flow/jet_flow.h"
#include "model/sediment/grains.h"

using namespace bedshade;

namespace {

const BedGrid kGrid{48, 24, 0.025, 0.025};

Tank tank() {
    Tank t;
    t.length_m = 1.2;
    t.width_m = 0.6;
    t.water_depth_m = 0.55;
    return t;
}

Pump pump(double litres_per_hour) {
    Pump p;
    p.position_m = {0.02, 0.3, 0.25};
    p.direction = (Vec3(0.7, 0.3, 0.02) - p.position_m).normalized();
    p.flow_m3_s = litres_per_hour / 3.6e6;
    return p;
}

Inhabitant goby() {
    Inhabitant fish;
    fish.events_per_day = 60.0;
    fish.mass_kg = 1.5e-3;
    fish.lift_m = 0.10;
    fish.from_h = 8.0;
    fish.to_h = 20.0;
    fish.around_m = {0.3, 0.3};
    fish.radius_m = 0.2;
    return fish;
}

BedSand plan(const std::vector<Pump>& pumps, const std::vector<Inhabitant>& life,
             const std::vector<Rock>& rocks = {}) {
    const auto flow = std::make_shared<JetFlow>(tank(), pumps, rocks, Water{});
    return {tank(), Substrate{}, rocks, life, Water{}, flow, kGrid};
}

double mass_kg_d(const BedSand& p) {
    const auto& fall = p.deposition_kg_m2_d();
    return std::accumulate(fall.begin(), fall.end(), 0.0) * kGrid.cell_area_m2();
}

std::size_t moving_cells(const BedSand& p) {
    const double threshold = critical_stress_Pa({1e-3, 2750.0}, seawater(Water{}));
    std::size_t n = 0;
    for (const double stress : p.shear_stress_Pa()) n += stress > threshold;
    return n;
}

}  // namespace

TEST_CASE("a bed without pumps or animals is at rest") {
    const auto p = plan({}, {});
    CHECK(mass_kg_d(p) == 0.0);
    CHECK(moving_cells(p) == 0);
    const auto steady = p.steady({Vec3(0.5, 0.3, 0.01), 0.03});
    CHECK(steady.deposition_kg_m2_d() == 0.0);
    CHECK(steady.flow_speed_m_s == 0.0);
    CHECK(p.events(1, 0, 0.0, 30.0).empty());
}

TEST_CASE("a strong jet resuspends one layer a day, and all of it is deposited") {
    CHECK(moving_cells(plan({pump(1500)}, {})) == 0);
    const auto strong = plan({pump(8000)}, {});
    const auto moving = moving_cells(strong);
    CHECK(moving > 20);
    CHECK(moving < kGrid.size() / 2);
    const double layer = daily_supply_kg_m2_d(1e-3, Substrate{});
    CHECK(layer == Approx(1e-3 * 2750.0 * 0.55));
    CHECK(mass_kg_d(strong) ==
          Approx(static_cast<double>(moving) * kGrid.cell_area_m2() * layer).epsilon(0.02));
}

TEST_CASE("sand is deposited downstream of the moving cells") {
    const auto p = plan({pump(4000)}, {});
    const double threshold = critical_stress_Pa({1e-3, 2750.0}, seawater(Water{}));
    double inside = 0.0, outside = 0.0, dug_at = 0.0, fell_at = 0.0, fell = 0.0;
    for (int j = 0; j < kGrid.ny; ++j)
        for (int i = 0; i < kGrid.nx; ++i) {
            const auto c = kGrid.index(i, j);
            const bool moves = p.shear_stress_Pa()[c] > threshold;
            (moves ? inside : outside) += p.deposition_kg_m2_d()[c];
            dug_at += moves ? kGrid.x_m(i) : 0.0;
            fell_at += kGrid.x_m(i) * p.deposition_kg_m2_d()[c];
            fell += p.deposition_kg_m2_d()[c];
        }
    CHECK(outside > 2.0 * inside);
    CHECK(fell_at / fell > dug_at / static_cast<double>(moving_cells(p)) + 0.1);
}

TEST_CASE("a jet that scours up to the glass deposits its sand there") {
    const auto p = plan({pump(8000)}, {});
    double by_glass = 0.0;
    for (int j = 0; j < kGrid.ny; ++j)
        for (int i = 44; i < kGrid.nx; ++i)
            by_glass += p.deposition_kg_m2_d()[kGrid.index(i, j)] * kGrid.cell_area_m2();
    CHECK(by_glass > 0.8 * mass_kg_d(p));
}

TEST_CASE("a pulse resuspends sand where its mean flow would not") {
    Pump pulse = pump(6000);
    pulse.program = PumpProgram::pulse;
    pulse.duty = 0.3;
    Pump mean = pump(6000 * 0.3);
    CHECK(moving_cells(plan({mean}, {})) == 0);
    CHECK(moving_cells(plan({pulse}, {})) > 0);
    CHECK(mass_kg_d(plan({pulse}, {})) > 0.0);
}

TEST_CASE("deposition by pumps reaches low tissue but not high tissue") {
    const auto p = plan({pump(8000), pump(8000)}, {});
    // The cell with the largest deposition.
    const auto& fall = p.deposition_kg_m2_d();
    const auto most =
        static_cast<std::size_t>(std::max_element(fall.begin(), fall.end()) - fall.begin());
    const double x = kGrid.x_m(static_cast<int>(most % 48));
    const double y = kGrid.y_m(static_cast<int>(most / 48));
    const auto low = p.steady({Vec3(x, y, 0.0), 0.0});
    CHECK(low.deposition_kg_m2_d() > 0.1);
    CHECK(low.by_pump_kg_m2_d[0] == Approx(low.by_pump_kg_m2_d[1]));
    CHECK(p.steady({Vec3(x, y, 0.1), 0.0}).deposition_kg_m2_d() == 0.0);
}

TEST_CASE("no resuspension under rock") {
    const std::vector<Rock> ledge{{"", RockBox{{0.3, 0.1, 0.0}, {0.9, 0.5, 0.03}}}};
    const auto p = plan({pump(8000)}, {}, ledge);
    CHECK(p.shear_stress_Pa()[kGrid.index(24, 12)] == 0.0);
    CHECK(moving_cells(p) < moving_cells(plan({pump(8000)}, {})));
}

TEST_CASE("events of a run do not depend on the step, and agree with the mean") {
    const auto p = plan({pump(1500)}, {goby(), goby()});
    const SandReceptor coral{Vec3(0.35, 0.3, 0.03), 0.04};
    const double days = 364.0;
    std::vector<Deposit> whole = p.deposits(coral, p.events(9, 1, 0.0, days));
    std::vector<Deposit> stepped;
    for (double t = 0.0; t < days; t += 6.5)
        for (const auto& d : p.deposits(coral, p.events(9, 1, t, std::min(t + 6.5, days))))
            stepped.push_back(d);
    REQUIRE(stepped.size() == whole.size());
    for (std::size_t i = 0; i < whole.size(); ++i) {
        CHECK(stepped[i].time_d == whole[i].time_d);
        CHECK(stepped[i].mass_kg_m2 == whole[i].mass_kg_m2);
    }
    const auto sources = p.sources(p.steady(coral), whole, days);
    const auto mean = p.mean_by_inhabitant_kg_m2_d(coral);
    CHECK(sources.by_inhabitant_kg_m2.size() == 2);
    for (std::size_t k = 0; k < 2; ++k)
        CHECK(sources.by_inhabitant_kg_m2[k] / days == Approx(mean[k]).epsilon(0.05));
    CHECK(sources.total_kg_m2() ==
          Approx(sources.by_inhabitant_kg_m2[0] + sources.by_inhabitant_kg_m2[1]));
    CHECK(p.deposits({Vec3(0.35, 0.3, 0.12), 0.04}, p.events(9, 1, 0.0, 30.0)).empty());
}

TEST_CASE("the deposition map contains all bioturbated sand") {
    const auto p = plan({pump(1500)}, {goby()});
    CHECK(p.bioturbation_kg_d() == Approx(0.09));
    CHECK(mass_kg_d(p) == Approx(0.09).epsilon(0.01));
}

TEST_CASE("suspended sediment settles from turbid water") {
    Water water;
    water.turbidity_kg_m3 = 0.5e-3;
    const auto flow =
        std::make_shared<JetFlow>(tank(), std::vector<Pump>{}, std::vector<Rock>{}, water);
    const BedSand p(tank(), Substrate{}, {}, {}, water, flow, kGrid);
    const auto steady = p.steady({Vec3(0.5, 0.3, 0.2), 0.0});
    // 10 um grains settle at about 0.1 mm/s: about 0.5 mg/cm2 a day.
    CHECK(steady.suspended_kg_m2_d / 0.01 == Approx(0.43).epsilon(0.1));
    CHECK(p.sources(steady, {}, 7.0).suspended_kg_m2 == Approx(7.0 * steady.suspended_kg_m2_d));
}

TEST_CASE("less sand moves in the wake of a coral, and upstream nothing changes") {
    auto p = plan({pump(6000.0)}, {});
    const auto stress_open = p.shear_stress_Pa();
    const double mass_open = mass_kg_d(p);
    const double area_m2 = kGrid.cell_area_m2();
    p.update_wakes({FlowBody{Vec3(0.5, 0.3, 0.0), 0.06, 0.15}});
    const auto& stress = p.shear_stress_Pa();
    const auto at = [&](double x_m) {
        return kGrid.index(kGrid.column_at(x_m), kGrid.row_at(0.3));
    };
    CHECK(stress[at(0.4)] == stress_open[at(0.4)]);
    CHECK(stress[at(0.6)] < 0.7 * stress_open[at(0.6)]);
    CHECK(mass_kg_d(p) < mass_open);
    // Mass is conserved: all resuspended sand lands inside the glass.
    const auto& drift = p.net_change_kg_m2_d();
    CHECK(std::accumulate(drift.begin(), drift.end(), 0.0) * area_m2 ==
          Approx(0.0).margin(0.02 * mass_open));

    p.update_wakes({});
    CHECK(p.shear_stress_Pa() == stress_open);
}
