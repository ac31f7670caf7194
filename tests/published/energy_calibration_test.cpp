// Checks the arithmetic of the calibration: the carbon balance must reproduce the light values that
// it was calibrated to, for every photosynthetic coral. This is no independent target for the
// model.
//
// The target values are a compilation of published and derived figures: light of survival and of
// full growth from photosynthesis-irradiance fits of Moorea colonies (E5 time series, 2020) scaled
// to tanks, and weeks of deep shade until tissue is lost from lipid stores (Coral Trait Database,
// Madin et al. 2016), bounded by Bessell-Browne et al. 2017 (Acropora, Pocillopora: over 4.3
// weeks). Most are by analogy; the trait table marks which.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "model/growth/energy.h"

#include "sim/input/traits/traits_reader.h"

using namespace bedshade;

namespace {

struct CalibrationTarget {
    const char* id;
    double dli_min_mol_m2_d;   ///< over 10 h, to one decimal
    double dli_full_mol_m2_d;  ///< over 10 h, to one decimal
    double weeks_to_loss;      ///< in less than 0.5 mol m-2 d-1
};

// Written out again, so that an edit of the trait table alone cannot move both sides of a check.
constexpr std::array kTargets = std::to_array<CalibrationTarget>({
    {"montipora-capricornis", 2.4, 8.1, 5.0},
    {"montipora-digitata", 3.1, 9.7, 5.0},
    {"acropora-muricata", 4.3, 13.5, 5.0},
    {"acropora-millepora", 4.3, 13.5, 5.0},
    {"acropora-hyacinthus", 4.3, 13.5, 5.0},
    {"pocillopora-damicornis", 3.5, 11.9, 5.0},
    {"stylophora-pistillata", 3.2, 10.8, 5.0},
    {"seriatopora-hystrix", 2.9, 9.7, 5.0},
    {"porites-lutea", 2.9, 9.7, 9.0},
    {"porites-cylindrica", 3.1, 9.7, 9.0},
    {"pavona-cactus", 2.1, 7.0, 7.0},
    {"pavona-decussata", 2.1, 7.0, 7.0},
    {"turbinaria-reniformis", 1.6, 7.0, 9.0},
    {"turbinaria-peltata", 1.4, 6.5, 9.0},
    {"echinopora-lamellosa", 1.6, 6.5, 7.0},
    {"leptoseris", 0.6, 2.4, 14.0},
    {"echinophyllia", 1.1, 4.9, 9.0},
    {"dipsastraea", 1.9, 7.6, 9.0},
    {"blastomussa", 0.8, 3.8, 10.0},
    {"micromussa", 1.0, 4.9, 10.0},
    {"lobophyllia-hemprichii", 1.2, 5.4, 10.0},
    {"lobophyllia-vitiensis", 1.2, 5.4, 10.0},
    {"homophyllia-australis", 0.7, 3.8, 11.0},
    {"trachyphyllia-geoffroyi", 0.7, 3.8, 11.0},
    {"cynarina-lacrymalis", 0.7, 3.5, 11.0},
    {"fungia", 1.4, 5.9, 10.0},
    {"herpolitha-limax", 1.4, 5.9, 10.0},
    {"polyphyllia-talpina", 1.4, 5.9, 10.0},
    {"diaseris-distorta", 1.4, 5.9, 10.0},
    {"heteropsammia-cochlea", 0.6, 3.2, 16.0},
    {"catalaphyllia-jardinei", 0.7, 3.8, 11.0},
    {"euphyllia", 0.9, 4.9, 9.0},
    {"plerogyra-sinuosa", 0.5, 3.0, 11.0},
    {"galaxea-fascicularis", 1.5, 7.0, 8.0},
    {"goniopora", 1.0, 5.4, 9.0},
    {"duncanopsammia-axifuga", 0.9, 4.9, 9.0},
    {"caulastraea-furcata", 1.0, 4.9, 9.0},
    {"xenia", 1.3, 5.9, 4.0},
    {"sarcophyton", 1.3, 5.4, 8.0},
    {"sinularia", 1.3, 5.4, 8.0},
    {"briareum", 1.0, 4.3, 9.0},
    {"discosoma", 0.5, 2.7, 12.0},
    {"ricordea", 0.7, 3.8, 11.0},
    {"zoanthus", 1.3, 5.9, 9.0},
    {"palythoa", 1.1, 5.4, 10.0},
});

/// Middle of "less than 0.5 mol m-2 d-1".
constexpr double kDeepShade_mol_m2_d = 0.25;

double light_of(double dli_mol, const LightDay& day) {
    return dli_mol / dli_mol_m2_d(day, std::array{1.0});
}

/// Net carbon of fed tissue long used to ten even hours of this daily light.
double settled_net(const Taxon& taxon, double dli_mol, const LightDay& day) {
    const std::array light = {light_of(dli_mol, day)};
    const double saturation = equilibrium_saturation_umol_m2_s(taxon, light[0]);
    return net_carbon(tissue_of(taxon, saturation), day, light);
}

}  // namespace

TEST_CASE("every photosynthetic coral has a calibration target") {
    const TraitTable table = builtin_traits();
    std::size_t photosynthetic = 0;
    for (const Taxon& taxon : table.taxa()) photosynthetic += taxon.photosynthetic() ? 1 : 0;
    CHECK(photosynthetic == kTargets.size());
}

TEST_CASE("the trait table has the light values of the calibration targets") {
    const TraitTable table = builtin_traits();
    for (const auto& target : kTargets) {
        INFO(target.id);
        const Taxon* taxon = table.find(target.id);
        REQUIRE(taxon != nullptr);
        CHECK(taxon->dli_min_mol_m2_d == Approx(target.dli_min_mol_m2_d).margin(0.0501));
        CHECK(taxon->dli_full_mol_m2_d == target.dli_full_mol_m2_d);
    }
}

TEST_CASE("the calibrated net carbon is zero at the minimum light of each coral") {
    const TraitTable table = builtin_traits();
    const LightDay day = square_day(10.0);
    for (const auto& target : kTargets) {
        INFO(target.id);
        const Taxon& taxon = *table.find(target.id);
        CHECK(settled_net(taxon, taxon.dli_min_mol_m2_d, day) == Approx(0.0).margin(0.02));
    }
}

TEST_CASE("the calibrated growth is full at the light of full growth, and not much below it") {
    const TraitTable table = builtin_traits();
    const LightDay day = square_day(10.0);
    for (const auto& target : kTargets) {
        INFO(target.id);
        const Taxon& taxon = *table.find(target.id);
        const double full = full_growth_net_carbon(taxon);
        CHECK(full > 0.3);
        const auto share = [&](double dli) {
            return extension_share(settled_net(taxon, dli, day), full);
        };
        CHECK(share(target.dli_full_mol_m2_d) >= 0.98);
        CHECK(share(target.dli_full_mol_m2_d) <= 1.0);
        CHECK(share(0.6 * target.dli_full_mol_m2_d) < 0.95);
        CHECK(share(0.98 * taxon.dli_min_mol_m2_d) <= 0.02);
    }
}

TEST_CASE("more than full growth's light, short of harm, grows no slower") {
    const TraitTable table = builtin_traits();
    const LightDay day = square_day(10.0);
    for (const auto& target : kTargets) {
        INFO(target.id);
        const Taxon& taxon = *table.find(target.id);
        const double brightest =
            std::min(1.8 * target.dli_full_mol_m2_d, 0.036 * taxon.inhibition_umol_m2_s);
        const double full = full_growth_net_carbon(taxon);
        for (double dli = target.dli_full_mol_m2_d; dli <= brightest; dli *= 1.1)
            CHECK(extension_share(settled_net(taxon, dli, day), full) >= 0.98);
    }
}

TEST_CASE("deep shade takes tissue after the weeks the target gives") {
    const TraitTable table = builtin_traits();
    const LightDay day = square_day(10.0);
    for (const auto& target : kTargets) {
        INFO(target.id);
        const Taxon& taxon = *table.find(target.id);
        const double net = settled_net(taxon, kDeepShade_mol_m2_d, day);
        const double weeks = days_until_spent(taxon, 1.0, net) / 7.0;
        CHECK(weeks == Approx(target.weeks_to_loss).epsilon(0.10));
    }
}

TEST_CASE("Acropora and Pocillopora outlive thirty days of near darkness") {
    // Bessell-Browne et al. 2017, Scientific Reports: bleached at under 0.1 mol m-2 d-1 for 30 d,
    // adults alive.
    const TraitTable table = builtin_traits();
    const LightDay day = square_day(10.0);
    for (const char* id : {"acropora-millepora", "pocillopora-damicornis"}) {
        INFO(id);
        const Taxon& taxon = *table.find(id);
        CHECK(days_until_spent(taxon, 1.0, settled_net(taxon, 0.05, day)) > 30.0);
    }
}

TEST_CASE("A. millepora is slower to acclimate than deep sheets") {
    // DiPerna et al. 2018: over 20 d, against 3-5 d for Pachyseris speciosa.
    const TraitTable table = builtin_traits();
    CHECK(table.find("acropora-millepora")->acclimation_d >= 20.0);
    CHECK(table.find("leptoseris")->acclimation_d >= 3.0);
    CHECK(table.find("leptoseris")->acclimation_d <= 5.0);
}
