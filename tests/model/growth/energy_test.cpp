// Photosynthesis, carbon balance, compensation light, acclimation and reserve, against closed
// forms.
#include "model/growth/energy.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "model/growth/compensation_light.h"

using namespace bedshade;

namespace {

Taxon plate() {
    Taxon taxon;
    taxon.compensation_umol_m2_s = 41.5;
    taxon.saturation_umol_m2_s = 150.0;
    taxon.saturation_high_umol_m2_s = 300.0;
    taxon.inhibition_umol_m2_s = 600.0;
    taxon.acclimation_d = 10.0;
    taxon.dli_min_mol_m2_d = 2.4;
    taxon.dli_full_mol_m2_d = 8.1;
    taxon.food_share = 0.2;
    taxon.reserve_d = 20.0;
    return taxon;
}

const AmbientConditions kUnfed{1.0, 0.0, 1.0};

Taxon food_alone() {
    Taxon taxon;
    taxon.food_share = 1.3;
    return taxon;
}

/// The day's mean of tanh(E/Ek) times inhibition, by the midpoint rule with `steps` steps.
double gross_by_steps(const Tissue& tissue, std::span<const LampDay> days,
                      std::span<const double> plateau, int steps) {
    double sum = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double hour = 24.0 * (i + 0.5) / steps;
        double light = 0.0;
        for (std::size_t l = 0; l < days.size(); ++l) light += plateau[l] * days[l].share_at(hour);
        sum += std::tanh(light / tissue.saturation_umol_m2_s) *
               inhibition_share(light, tissue.inhibition_umol_m2_s);
    }
    return sum / steps;
}

double sum_of(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double value : values) sum += value;
    return sum;
}

}  // namespace

TEST_CASE("a square day is one node") {
    const LightDay day = square_day(10.0);
    CHECK(day.nodes() == 1);
    CHECK(day.hours[0] == Approx(10.0));
    CHECK(day.share[0] == 1.0);
    CHECK(day.same_schedule);
    CHECK(dli_mol_m2_d(day, std::array{100.0}) == Approx(3.6));
}

TEST_CASE("a trapezoid day has one node for its plateau and four for its ramps") {
    const std::array days = {LampDay{10.0, 20.0, 2.0}};
    const LightDay day = light_day(days);
    CHECK(day.nodes() == 5);
    CHECK(sum_of(day.hours) == Approx(10.0));
    CHECK(day.plateau_hours[0] == Approx(days[0].plateau_hours()).epsilon(1e-14));
    CHECK(peak_umol_m2_s(day, std::array{250.0}) == Approx(250.0));
}

TEST_CASE("a day without a plateau has the right daily light and peak") {
    const std::array days = {LampDay{8.0, 12.0, 2.0}};
    const LightDay day = light_day(days);
    CHECK(day.plateau_hours[0] == Approx(2.0));
    CHECK(peak_umol_m2_s(day, std::array{100.0}) == Approx(100.0).epsilon(1e-6));
}

TEST_CASE("a day without lamps is dark") {
    const LightDay day = light_day({});
    CHECK(day.nodes() == 0);
    CHECK(dli_mol_m2_d(day, {}) == 0.0);
    CHECK(peak_umol_m2_s(day, {}) == 0.0);
}

TEST_CASE("lamps with different schedules are integrated over all breakpoints") {
    const std::array days = {LampDay{8.0, 18.0, 1.0}, LampDay{10.0, 20.0, 2.0},
                             LampDay{9.5, 9.75, 0.0}};
    const std::array plateau = {120.0, 200.0, 500.0};
    const LightDay day = light_day(days);
    CHECK_FALSE(day.same_schedule);
    CHECK(dli_mol_m2_d(day, plateau) ==
          Approx(0.0036 * (120.0 * 9.0 + 200.0 * 8.0 + 500.0 * 0.25)));
    CHECK(peak_umol_m2_s(day, plateau) == Approx(620.0).epsilon(1e-6));
    const Tissue tissue = tissue_of(plate(), 150.0);
    CHECK(gross_per_day(tissue, day, plateau) ==
          Approx(gross_by_steps(tissue, days, plateau, 960000)).epsilon(2e-5));
}

TEST_CASE("four nodes of a ramp suffice for a one-hour and a five-hour ramp") {
    const Tissue tissue = tissue_of(plate(), 150.0);
    for (const double ramp : {0.5, 2.0, 5.0}) {
        const std::array days = {LampDay{10.0, 20.0, ramp}};
        const LightDay day = light_day(days);
        for (const double plateau : {20.0, 150.0, 500.0}) {
            INFO("ramp " << ramp << " h, plateau " << plateau);
            const double exact = gross_by_steps(tissue, days, std::array{plateau}, 200000);
            CHECK(gross_per_day(tissue, day, std::array{plateau}) == Approx(exact).epsilon(5e-4));
        }
    }
}

TEST_CASE("summed light and light by lamp give the same gross photosynthesis") {
    const std::array days = {LampDay{10.0, 20.0, 2.0}, LampDay{10.0, 20.0, 2.0}};
    const LightDay day = light_day(days);
    REQUIRE(day.same_schedule);
    const Tissue tissue = tissue_of(plate(), 180.0);
    CHECK(gross_per_day(tissue, day, std::array{70.0, 90.0}) ==
          Approx(gross_per_day(tissue, day, 160.0)).epsilon(1e-14));
    CHECK(gross_per_day(tissue, day, std::array{35.0, 45.0}, 2.0) ==
          Approx(gross_per_day(tissue, day, 160.0)).epsilon(1e-14));
}

TEST_CASE("gross photosynthesis meets respiration at the compensation light") {
    // A whole day at Ec, unfed: PR tanh(Ec/Ek) = 1, against q.
    const Taxon taxon = plate();
    const Tissue tissue = tissue_of(taxon, taxon.saturation_umol_m2_s, kUnfed);
    const double gross = gross_per_day(tissue, square_day(24.0), std::array{41.5});
    CHECK(tissue.production_ratio * gross == Approx(1.0));
    CHECK(net_carbon(tissue, gross, taxon.dli_full_mol_m2_d) == Approx(0.0).margin(1e-12));
}

TEST_CASE("gross photosynthesis never exceeds saturation") {
    const Tissue tissue = without_inhibition(tissue_of(plate(), 150.0));
    const LightDay day = square_day(10.0);
    double before = 0.0;
    for (double light = 10.0; light < 2000.0; light *= 1.3) {
        const double gross = gross_per_day(tissue, day, light);
        CHECK(gross >= before);
        CHECK(gross <= 10.0 / 24.0);
        before = gross;
    }
}

TEST_CASE("inhibition begins at its onset and increases with light") {
    CHECK(inhibition_share(600.0, 600.0) == 1.0);
    CHECK(inhibition_share(1200.0, 600.0) == Approx(std::exp(-1.0)));
    CHECK(inhibition_share(1e6, kNoInhibition_umol_m2_s) == 1.0);
    const Tissue tissue = tissue_of(plate(), 300.0);
    const LightDay day = square_day(10.0);
    CHECK(gross_per_day(tissue, day, 500.0) ==
          gross_per_day(without_inhibition(tissue), day, 500.0));
    CHECK(gross_per_day(tissue, day, 1500.0) <
          0.3 * gross_per_day(without_inhibition(tissue), day, 1500.0));
}

TEST_CASE("respiration is a fifth lower in shade") {
    const Tissue tissue = tissue_of(plate(), 150.0);
    CHECK(respiration_share(tissue, 0.0) == Approx(0.8));
    CHECK(respiration_share(tissue, 2.4) == Approx(0.8));
    CHECK(respiration_share(tissue, 5.25) == Approx(0.9));
    CHECK(respiration_share(tissue, 8.1) == Approx(1.0));
    CHECK(respiration_share(tissue, 30.0) == Approx(1.0));
}

TEST_CASE("a coral without photosynthesis has the same net carbon in light and in darkness") {
    const Taxon taxon = food_alone();
    const Tissue fed = tissue_of(taxon, 0.0);
    const LightDay day = square_day(10.0);
    CHECK(net_carbon(fed, day, std::array{0.0}) == Approx(0.3));
    CHECK(net_carbon(fed, day, std::array{400.0}) == Approx(0.3));
    CHECK(net_carbon(tissue_of(taxon, 0.0, kUnfed), day, std::array{400.0}) == Approx(-1.0));
    CHECK(equilibrium_saturation_umol_m2_s(taxon, 300.0) == 0.0);
    CHECK(full_growth_net_carbon(taxon) == Approx(0.3));
}

TEST_CASE("equilibrium Ek is two thirds of the brightest light, within its range") {
    const Taxon taxon = plate();
    CHECK(equilibrium_saturation_umol_m2_s(taxon, 300.0) == Approx(200.0));
    CHECK(equilibrium_saturation_umol_m2_s(taxon, 60.0) == 150.0);
    CHECK(equilibrium_saturation_umol_m2_s(taxon, 900.0) == 300.0);
}

TEST_CASE("acclimation is the same in one step and in many steps") {
    const Taxon taxon = plate();
    CHECK(acclimated_saturation_umol_m2_s(taxon, 150.0, 300.0, 10.0) ==
          Approx(300.0 - 150.0 * std::exp(-1.0)));
    double ek = 150.0;
    for (int d = 0; d < 14; ++d) ek = acclimated_saturation_umol_m2_s(taxon, ek, 300.0, 1.0);
    CHECK(ek == Approx(acclimated_saturation_umol_m2_s(taxon, 150.0, 300.0, 14.0)));
}

TEST_CASE("extension is proportional to net carbon") {
    CHECK(extension_share(-0.1, 0.6) == 0.0);
    CHECK(extension_share(0.3, 0.6) == Approx(0.5));
    CHECK(extension_share(0.9, 0.6) == 1.0);
    CHECK(extension_share(0.3, 0.0) == 0.0);
    CHECK(extension_share(0.3, -0.2) == 0.0);
}

TEST_CASE("the reserve is exhausted on the day given by its rate") {
    const Taxon taxon = plate();
    CHECK(reserve_after(taxon, 1.0, -0.5, 7.0) == Approx(1.0 - 3.5 / 20.0));
    CHECK(reserve_after(taxon, 0.1, -0.5, 7.0) == 0.0);
    CHECK(reserve_after(taxon, 0.9, 0.5, 7.0) == 1.0);
    CHECK(days_until_spent(taxon, 0.5, -0.5) == Approx(20.0));
    CHECK(std::isinf(days_until_spent(taxon, 0.5, 0.0)));
    CHECK(reserve_after(taxon, 0.5, -0.5, days_until_spent(taxon, 0.5, -0.5)) ==
          Approx(0.0).margin(1e-15));
}

TEST_CASE("a colony's net carbon is the mean over its patches, weighted by live area") {
    const Tissue tissue = tissue_of(plate(), 150.0);
    const LightDay day = square_day(10.0);
    const std::array plateau = {40.0, 200.0, 999.0}, weight = {3.0, 1.0, 0.0};
    const double dim = net_carbon(tissue, day, std::array{40.0});
    const double bright = net_carbon(tissue, day, std::array{200.0});
    CHECK(mean_net_carbon(tissue, day, {plateau, weight}) == Approx((3.0 * dim + bright) / 4.0));
    CHECK(mean_dli_mol_m2_d(day, {plateau, weight}) == Approx(0.036 * 80.0));
    const std::array dead = {0.0, 0.0, 0.0};
    CHECK(mean_net_carbon(tissue, day, {plateau, dead}) == 0.0);
}

TEST_CASE("compensation light balances the carbon, from any guess") {
    const Tissue tissue = tissue_of(plate(), 150.0);
    const std::array days = {LampDay{10.0, 20.0, 2.0}, LampDay{9.0, 21.0, 1.0}};
    const LightDay day = light_day(days);
    const std::array plateau = {40.0, 20.0, 200.0, 10.0, 5.0, 3.0};
    const std::array weight = {3.0, 1.0, 2.0};
    const PatchLight light{plateau, weight};
    const double need = need_scale(tissue, day, light);
    CHECK(mean_net_carbon(tissue, day, light, need) == Approx(0.0).margin(1e-6));
    for (const double guess : {1e-6, 0.3, need, 7.0, 1e6, 0.0, std::nan("")}) {
        INFO("guess " << guess);
        CHECK(need_scale(tissue, day, light, guess) == Approx(need).epsilon(1e-5));
    }
}

TEST_CASE("compensation light of one patch equals its closed form") {
    // PR (10/24) tanh(E/Ek) = 0.8 (1 - h): E = Ek artanh(...) below dli_min.
    Taxon taxon = plate();
    taxon.dli_min_mol_m2_d = 3.0;
    const Tissue tissue = tissue_of(taxon, 150.0);
    const double wanted = 150.0 * std::atanh(0.8 * 0.8 * 2.4 / tissue.production_ratio);
    const std::array plateau = {25.0}, weight = {1.0};
    CHECK(25.0 * need_scale(tissue, square_day(10.0), {plateau, weight}) ==
          Approx(wanted).epsilon(1e-5));
}

TEST_CASE("compensation light is zero or infinite in limiting cases") {
    const LightDay day = square_day(10.0);
    const std::array plateau = {25.0}, dark = {0.0}, weight = {1.0};
    CHECK(need_scale(tissue_of(food_alone(), 0.0), day, {dark, weight}) == 0.0);
    CHECK(std::isinf(need_scale(tissue_of(food_alone(), 0.0, kUnfed), day, {plateau, weight})));
    const Tissue tissue = tissue_of(plate(), 150.0);
    CHECK(std::isinf(need_scale(tissue, day, {dark, weight})));
    CHECK(std::isinf(need_scale(tissue, square_day(3.0), {plateau, weight})));
    CHECK(std::isfinite(need_scale(tissue, square_day(9.0), {plateau, weight})));
}

TEST_CASE("with inhibition, compensation light is the lowest sufficient light, or infinite") {
    Tissue tissue = tissue_of(plate(), 150.0);
    const LightDay day = square_day(10.0);
    const std::array plateau = {100.0, 400.0}, weight = {10.0, 1.0};
    const PatchLight light{plateau, weight};
    const double harmless = need_scale(without_inhibition(tissue), day, light);
    int unharmed = 0, harmed = 0, never = 0;
    for (double onset = 20.0; onset < 400.0; onset *= 1.02) {
        tissue.inhibition_umol_m2_s = onset;
        double first = 0.01;
        while (first < 100.0 && mean_net_carbon(tissue, day, light, first) < 0.0) first *= 1.001;
        const double need = need_scale(tissue, day, light);
        INFO("onset " << onset << ", by steps " << first);
        if (first >= 100.0) {
            CHECK(std::isinf(need));
            ++never;
        } else {
            CHECK(need == Approx(first).epsilon(2e-3));
            ++(need > 1.002 * harmless ? harmed : unharmed);
        }
    }
    CHECK(unharmed > 5);
    CHECK(harmed > 5);
    CHECK(never > 5);
}
