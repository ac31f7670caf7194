// Effect of flow, food and temperature on tissue: neutral values, trends and limits.
#include "model/growth/ambient_conditions.h"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/growth/compensation_light.h"
#include "model/growth/energy.h"

#include "sim/input/traits/traits_reader.h"

using namespace bedshade;

namespace {

/// Net carbon under ten hours of constant light, acclimated to it.
double net_under(const Taxon& taxon, double dli_mol, const AmbientConditions& ambient) {
    const LightDay day = square_day(10.0);
    const std::array light = {dli_mol / dli_mol_m2_d(day, std::array{1.0})};
    return net_carbon(tissue_of(taxon, equilibrium_saturation_umol_m2_s(taxon, light[0]), ambient),
                      day, light);
}

}  // namespace

TEST_CASE("in ordinary flow, fed as usual at 26 degC, every factor is 1") {
    const TraitTable table = builtin_traits();
    for (const Taxon& taxon : table.taxa()) {
        INFO(taxon.id);
        const double flow = ordinary_flow_m_s(taxon);
        CHECK(flow > taxon.flow_low_m_s);
        CHECK(flow < taxon.flow_high_m_s);
        const AmbientConditions ambient = ambient_conditions_of(taxon, flow, 1.0, 26.0);
        CHECK(ambient.capacity == Approx(1.0));
        CHECK(ambient.feeding == Approx(1.0));
        CHECK(ambient.respiration == Approx(1.0));
        CHECK(growth_temperature_factor(26.0) == 1.0);
        CHECK(net_under(taxon, 3.0, ambient) == Approx(net_under(taxon, 3.0, {})));
    }
}

TEST_CASE("more flow increases mass transfer, and prey capture is best in ordinary flow") {
    const Taxon taxon;
    const double ordinary = ordinary_flow_m_s(taxon);
    CHECK(transfer_share(taxon, 4.0 * ordinary) == Approx(1.0 / (0.85 + 0.15 / 2.0)));
    CHECK(transfer_share(taxon, ordinary / 4.0) == Approx(1.0 / (0.85 + 0.15 * 2.0)));
    CHECK(transfer_share(taxon, 1e6) < 1.0 / 0.85);
    for (double flow = 0.004; flow < 1.0; flow *= 1.5) {
        CHECK(transfer_share(taxon, 1.5 * flow) > transfer_share(taxon, flow));
        CHECK(capture_share(taxon, flow) <= 1.0);
    }
    CHECK(capture_share(taxon, 0.5 * ordinary) < 1.0);
    CHECK(capture_share(taxon, 2.0 * ordinary) < 1.0);
}

TEST_CASE("factors are constant below the lowest flow that was measured") {
    const Taxon taxon;
    CHECK(transfer_share(taxon, 0.0) == transfer_share(taxon, 0.002));
    CHECK(transfer_share(taxon, 0.0) > 0.3);
    CHECK(capture_share(taxon, 0.0) == capture_share(taxon, 0.002));
    Taxon of_still_water;
    of_still_water.flow_low_m_s = 0.0;
    CHECK(ordinary_flow_m_s(of_still_water) > 0.0);
}

TEST_CASE("flow affects photosynthesis in bright light, and hardly in dim light") {
    const TraitTable table = builtin_traits();
    for (const char* id : {"acropora-millepora", "montipora-capricornis", "fungia"}) {
        INFO(id);
        const Taxon& taxon = *table.find(id);
        AmbientConditions slack;
        slack.capacity = transfer_share(taxon, 0.002);
        const double bright = net_under(taxon, taxon.dli_full_mol_m2_d, {}) -
                              net_under(taxon, taxon.dli_full_mol_m2_d, slack);
        const double dim = net_under(taxon, 0.2 * taxon.dli_full_mol_m2_d, {}) -
                           net_under(taxon, 0.2 * taxon.dli_full_mol_m2_d, slack);
        CHECK(bright > 0.2);
        CHECK(dim > 0.0);
        CHECK(dim < 0.35 * bright);
    }
}

TEST_CASE("compensation light rises with temperature") {
    const Taxon taxon = *builtin_traits().find("fungia");
    const LightDay day = square_day(10.0);
    const std::array plateau = {60.0}, weight = {1.0};
    const auto need = [&](double temperature_C) {
        const AmbientConditions ambient =
            ambient_conditions_of(taxon, ordinary_flow_m_s(taxon), 1.0, temperature_C);
        return need_scale(tissue_of(taxon, 100.0, ambient), day, {plateau, weight});
    };
    CHECK(respiration_temperature_factor(36.0) == Approx(2.0));
    CHECK(respiration_temperature_factor(16.0) == Approx(0.5));
    CHECK(need(28.0) > 1.05 * need(26.0));
    CHECK(need(24.0) < 0.97 * need(26.0));
}

TEST_CASE("respiration has the same bits with every compiler") {
    int apart = 0;
    for (int i = 0; i <= 20000; ++i) {
        const double warmth_C = 16.0 + 1e-3 * i;
        if (respiration_temperature_factor(warmth_C) != std::exp2((warmth_C - 26.0) / 10.0))
            ++apart;
    }
    CHECK(apart == 0);
}
