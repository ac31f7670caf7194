// What was seen of corals in more or less flow, food and warmth.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/growth/energy.h"

#include "tests/observations/corals.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

AmbientConditions in_flow(const Taxon& taxon, double flow_m_s) {
    return ambient_conditions_of(taxon, flow_m_s, 1.0, kBestGrowth_C);
}

double growth_at(const Taxon& taxon, double temperature_C) {
    const AmbientConditions ambient =
        ambient_conditions_of(taxon, ordinary_flow_m_s(taxon), 1.0, temperature_C);
    return growth_temperature_factor(temperature_C) *
           growth_share(taxon, taxon.dli_full_mol_m2_d, ambient);
}

}  // namespace

TEST_CASE("photosynthesis of Pocillopora rises with flow, less than in the steepest study") {
    // Coral Trait Database, study 581: gross photosynthesis 2.6, 5.7 and 9.1 umol O2 cm-2 h-1 at
    // 0.2, 3.8 and 7.2 cm/s. Others found a quarter (Dennison & Barnes 1988, from memory) or
    // nothing (Sebens et al. 2003); the model lies between.
    const Taxon& taxon = table_row("pocillopora-damicornis");
    const double still = transfer_share(taxon, 0.002), slow = transfer_share(taxon, 0.038),
                 quick = transfer_share(taxon, 0.072);
    CHECK(still < slow);
    CHECK(slow < quick);
    CHECK(quick / still > 1.0 / 0.75);
    CHECK(quick / still < 9.1 / 2.6);
}

TEST_CASE("Pocillopora and Stylophora grow better at 20 cm/s than below 3 cm/s") {
    // Nakamura & Yamasaki 2005, Marine Pollution Bulletin: twenty months in flumes.
    for (const char* id : {"pocillopora-damicornis", "stylophora-pistillata"}) {
        INFO(id);
        const Taxon& taxon = table_row(id);
        const auto growth = [&](double flow_m_s) {
            return growth_share(taxon, taxon.dli_full_mol_m2_d, in_flow(taxon, flow_m_s));
        };
        CHECK(growth(0.02) < 0.75 * growth(0.20));
        CHECK(growth(0.02) > 0.0);
    }
}

TEST_CASE("colonies of Galaxea feed best at 5 to 10 cm/s of the speeds that were tried") {
    // Wijgerde et al. 2012, Journal of Marine Biology: 1.25 to 40 cm/s.
    const Taxon& taxon = table_row("galaxea-fascicularis");
    constexpr std::array kTried_m_s = {0.0125, 0.05, 0.10, 0.20, 0.30, 0.40};
    const auto* best = std::max_element(
        kTried_m_s.begin(), kTried_m_s.end(),
        [&](double a, double b) { return capture_share(taxon, a) < capture_share(taxon, b); });
    CHECK(*best >= 0.05);
    CHECK(*best <= 0.10);
    CHECK(capture_share(taxon, 0.40) < 0.5);
    CHECK(capture_share(taxon, 0.0125) < 0.5);
}

TEST_CASE("growth is fastest near 26 degC, least at 21 to 22, and less at 30") {
    // Jokiel & Coles 1977, Marine Biology 43: Pocillopora damicornis, Montipora verrucosa, Fungia
    // (Lobactis) scutaria.
    for (const char* id : {"pocillopora-damicornis", "montipora-capricornis", "fungia"}) {
        INFO(id);
        const Taxon& taxon = table_row(id);
        double best_C = 20.0;
        for (double at_C = 20.0; at_C <= 30.0; at_C += 0.25)
            if (growth_at(taxon, at_C) > growth_at(taxon, best_C)) best_C = at_C;
        CHECK(best_C >= 25.0);
        CHECK(best_C <= 27.0);
        CHECK(growth_at(taxon, 21.5) < 0.7 * growth_at(taxon, best_C));
        CHECK(growth_at(taxon, 30.0) < 0.8 * growth_at(taxon, best_C));
        CHECK(growth_at(taxon, 30.0) > 0.0);
    }
}

TEST_CASE("a summer's and a winter's growth differ as at Curacao") {
    // Bak et al. 2009: Acropora palmata, 0.81 over 0.69 and 0.75 over 0.62 cm a month; the water
    // there is about 2.75 degrees warmer in summer (from memory).
    CHECK(growth_temperature_factor(26.0) / growth_temperature_factor(26.0 - 2.75) >= 1.17);
    CHECK(growth_temperature_factor(26.0) / growth_temperature_factor(26.0 - 2.75) <= 1.21);
}
