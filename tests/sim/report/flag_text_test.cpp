// What each flag says in words, with its values and whoever is behind it.
#include <catch2/catch.hpp>
#include <limits>

#include "sim/report/report.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Layout reef_of_one_each() {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::massive, 100.0)};
    layout.taxa[0].scientific_name = "Favia; Dipsastraea";
    layout.colonies = {colony_at("brain", 0, Vec3(1.0, 1.0, 0.0), 0.1, 0.05),
                       colony_at("neighbour", 0, Vec3(1.2, 1.0, 0.2), 0.1, 0.05)};
    layout.pumps.resize(1);
    layout.pumps[0].name = "return";
    layout.inhabitants.resize(1);
    layout.inhabitants[0].name = "worms";
    layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.8), LampShape::point, 0.0, 100.0)};
    return layout;
}

using Details = std::vector<std::pair<std::string, double>>;

Flag flag_of(FlagKind kind, Details detail, CulpritKind culprit_kind = CulpritKind::self,
             int culprit = -1) {
    Flag flag;
    flag.kind = kind;
    flag.month = 2;
    flag.day_d = 40.0;
    flag.culprit_kind = culprit_kind;
    flag.culprit = culprit;
    flag.share = culprit < 0 ? 0.0 : 0.75;
    flag.detail = std::move(detail);
    return flag;
}

/// The sentence behind the date and the flag's name.
std::string sentence(const Flag& flag) {
    const std::string reported = flag_text(reef_of_one_each(), flag);
    const auto at = reported.find(": ", reported.find("), ")) + 2;
    CHECK(reported.rfind("month 2 (", 0) == 0);
    CHECK(reported.find(std::string(", ") + to_string(flag.kind) + ": ") != std::string::npos);
    return reported.substr(at);
}

}  // namespace

TEST_CASE("too much light is reported with what the coral can use") {
    CHECK(sentence(flag_of(FlagKind::too_bright,
                           {{"dli_mol_m2_d", 14.0}, {"need_dli_mol_m2_d", 1.5}})) ==
          "'brain' (Favia) gets more light than it tolerates: its daily light is 14.00 of the 1.50 "
          "mol m-2 it needs");
}

TEST_CASE("a spot that no lamp can light enough is reported so") {
    CHECK(sentence(flag_of(FlagKind::too_dim,
                           {{"dli_mol_m2_d", 1.0},
                            {"need_dli_mol_m2_d", std::numeric_limits<double>::infinity()}})) ==
          "the spot of 'brain' (Favia) on the bed is too dark under these lamps: its daily light "
          "is 1.00 mol m-2, and no light would be enough");
}

TEST_CASE("burial is reported with the main source of the sand") {
    const Details sand = {{"sand_mg_cm2", 80.0}, {"fallout_mg_cm2_d", 25.0}};
    const std::string burial =
        "'brain' (Favia) is losing tissue under 80 mg/cm2 of sand, deposited at 25 mg/cm2 a day";
    CHECK(sentence(flag_of(FlagKind::buried, sand)) == burial);
    CHECK(sentence(flag_of(FlagKind::buried, sand, CulpritKind::pump, 0)) ==
          burial + "; most of it (75 %) resuspended by pump 'return'");
    CHECK(sentence(flag_of(FlagKind::buried, sand, CulpritKind::inhabitant, 0)) ==
          burial + "; most of it (75 %) from 'worms'");
}

TEST_CASE("neighbours are reported with the harm they do") {
    const auto of = [](FlagKind kind, Details detail, int culprit) {
        return sentence(flag_of(kind, std::move(detail), CulpritKind::colony, culprit));
    };
    CHECK(of(FlagKind::overgrown, {}, 1) ==
          "'brain' (Favia) is losing tissue where it is overgrown by 'neighbour' (Favia)");
    CHECK(of(FlagKind::stung, {}, -1) ==
          "'brain' (Favia) is losing tissue to the tentacles of a neighbour");
    CHECK(of(FlagKind::stung, {{"by_chemistry", 1.0}}, 1) ==
          "'brain' (Favia) is losing tissue to chemicals released by 'neighbour' (Favia)");
}

TEST_CASE("an outgrown coral is reported with what it has reached") {
    CHECK(sentence(flag_of(FlagKind::outgrown, {{"diameter_cm", 21.4}, {"touches_glass", 1.0}})) ==
          "'brain' (Favia) is 21 cm across and has reached the glass");
    CHECK(sentence(
              flag_of(FlagKind::outgrown,
                      {{"diameter_cm", 21.4}, {"touches_surface", 1.0}, {"at_size_limit", 1.0}})) ==
          "'brain' (Favia) is 21 cm across and has reached the surface and the largest size of its "
          "kind");
}

TEST_CASE("animals at a coral's base are named, and the recession rate is called a guess") {
    const Details pace = {{"recession_mm_month", 1.25}};
    const std::string rest = " at its base, by about 1.2 mm a month (the rate is a guess)";
    CHECK(sentence(flag_of(FlagKind::irritated, pace, CulpritKind::inhabitant, 0)) ==
          "'brain' (Favia) recedes from 'worms'" + rest);
    CHECK(sentence(flag_of(FlagKind::irritated, pace)) ==
          "'brain' (Favia) recedes from an animal" + rest);
}

TEST_CASE("the culprit of a flag has its name of the layout") {
    const Layout layout = reef_of_one_each();
    const auto name = [&](CulpritKind kind, int culprit) {
        return culprit_name(layout, flag_of(FlagKind::stung, {}, kind, culprit));
    };
    CHECK(name(CulpritKind::colony, 1) == "neighbour");
    CHECK(name(CulpritKind::pump, 0) == "return");
    CHECK(name(CulpritKind::inhabitant, 0) == "worms");
    CHECK(name(CulpritKind::lamp, 0) == "lamp");
    CHECK(name(CulpritKind::water, 0).empty());
    CHECK(name(CulpritKind::colony, -1).empty());
}

TEST_CASE("a flow outside its range is reported with enough decimals to show the side") {
    const auto reported = [](double flow_cm_s) {
        return sentence(
            flag_of(FlagKind::flow_harsh,
                    {{"flow_cm_s", flow_cm_s}, {"flow_low_cm_s", 2.5}, {"flow_high_cm_s", 18.0}}));
    };
    CHECK(reported(52.13) ==
          "'brain' (Favia) has averaged 52.1 cm/s of flow for 30 days; it does best at 2.5 to 18 "
          "cm/s");
    CHECK(reported(18.004).find("averaged 18.004 cm/s") != std::string::npos);
    CHECK(reported(2.46).find("averaged 2.46 cm/s") != std::string::npos);
    CHECK(beside_range(18.04, 2.0, 20.0) == "18.0");
    CHECK(beside_range(18.0 + 1e-9, 2.0, 18.0) == "18.000000");
    // Limits that come from metres are a little off, and halves go to the even digit.
    CHECK(beside_range(6.98, 100.0 * (7.0 * 0.01), 20.0) == "6.98");
    CHECK(beside_range(29.02, 2.0, 100.0 * (29.0 * 0.01)) == "29.02");
    CHECK(beside_range(4.05, 2.0, 4.0) == "4.05");
}
