// Flags from frames made by hand: which kind, on which day, because of whom.
#include "sim/verdict/flag_detector.h"

#include <catch2/catch.hpp>
#include <limits>

#include "sim/report/report.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Layout plate_and_bed_coral() {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::laminar, 100.0), plain_coral(Form::free_living_disc, 100.0)};
    for (Taxon& taxon : layout.taxa) taxon.flow_high_m_s = 1.0;
    layout.colonies = {colony_at("plate", 0, Vec3(1.0, 1.0, 0.2), 0.1, 0.02),
                       colony_at("disc", 1, Vec3(1.0, 1.0, 0.0), 0.1, 0.02)};
    layout.pumps.resize(1);
    return layout;
}

Snapshot snapshot_on(double day_d) {
    Snapshot snapshot;
    snapshot.day_d = day_d;
    snapshot.step_d = 7.0;
    snapshot.colonies.resize(2);
    snapshot.reef.colonies.resize(2);
    for (ColonyState& state : snapshot.reef.colonies) {
        state.stage = Stage::growing;
        state.radius_m.fill(0.05);
    }
    for (ColonyObservation& found : snapshot.colonies) {
        found.net_carbon = found.net_others_at_baseline = found.net_uninhibited = 0.1;
        found.dli_mol_m2_d = 2.0;
        found.need_dli_mol_m2_d = 1.0;
        found.flow_speed_m_s = 0.1;
    }
    return snapshot;
}

/// Net carbon of the disc that falls by 0.01 a day from 0.6: its 30-day mean is zero when the
/// middle of the window is at day 60, so on day 75.
double falling_net(double day_d) { return 0.6 - 0.01 * day_d; }

template <class Change>
std::vector<Flag> flags_of(double until_d, double step_d, Change change) {
    const Layout layout = plate_and_bed_coral();
    FlagDetector detector(layout);
    for (double day = 0.0; day <= until_d; day += step_d) {
        Snapshot snapshot = snapshot_on(day);
        change(snapshot);
        detector.take(snapshot);
    }
    return detector.flags();
}

}  // namespace

TEST_CASE("light taken by growth is flagged when the 30-day mean turns, for any step") {
    const double step_d = GENERATE(1.0, 7.0, 14.0, 31.0);
    const auto flags = flags_of(120.0, step_d, [](Snapshot& snapshot) {
        ColonyObservation& disc = snapshot.colonies[1];
        disc.net_carbon = disc.net_uninhibited = falling_net(snapshot.day_d);
        disc.shade_by = {{0, 0.6}};
        disc.shade_since_baseline = {{0, 0.5}};
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::light_short);
    CHECK(flags[0].colony == 1);
    CHECK(flags[0].day_d == Approx(75.0).margin(0.2));
    CHECK(flags[0].month == 3);
    CHECK(flags[0].culprit_kind == CulpritKind::colony);
    CHECK(flags[0].culprit == 0);
    CHECK(flags[0].share == Approx(0.6));
    CHECK(plate_starves_bed(flags[0], plate_and_bed_coral()));
}

TEST_CASE("a spot that was too dark from the start is too dim, not anyone's growth") {
    const auto flags = flags_of(40.0, 7.0, [](Snapshot& snapshot) {
        ColonyObservation& disc = snapshot.colonies[1];
        disc.net_carbon = disc.net_others_at_baseline = disc.net_uninhibited = -0.1;
        disc.dli_mol_m2_d = 0.5;
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::too_dim);
    CHECK(flags[0].day_d == Approx(35.0));  // the first frame with thirty days behind it
    CHECK(flags[0].culprit_kind == CulpritKind::lamp);
}

TEST_CASE("a coral that no light can feed is reported in words") {
    const auto flags = flags_of(40.0, 7.0, [](Snapshot& snapshot) {
        ColonyObservation& disc = snapshot.colonies[1];
        disc.net_carbon = disc.net_others_at_baseline = disc.net_uninhibited = -0.1;
        disc.need_dli_mol_m2_d = std::numeric_limits<double>::infinity();
    });
    REQUIRE(flags.size() == 1);
    const std::string text = flag_text(plate_and_bed_coral(), flags[0]);
    CHECK(text.find("mol m-2, and no light would be enough") != std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
}

TEST_CASE("light lost without growth is too dim, not light taken") {
    const auto flags = flags_of(120.0, 7.0, [](Snapshot& snapshot) {
        ColonyObservation& disc = snapshot.colonies[1];
        disc.net_carbon = disc.net_uninhibited = falling_net(snapshot.day_d);
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::too_dim);
    CHECK(flags[0].culprit_kind == CulpritKind::lamp);
    CHECK(flag_text(plate_and_bed_coral(), flags[0]).find("too dark") != std::string::npos);
}

TEST_CASE("too dim under a neighbour at its initial size is attributed to it") {
    const auto flags = flags_of(40.0, 7.0, [](Snapshot& snapshot) {
        ColonyObservation& disc = snapshot.colonies[1];
        disc.net_carbon = disc.net_others_at_baseline = disc.net_uninhibited = -0.1;
        disc.dli_mol_m2_d = 0.5;
        disc.shade_by = {{0, 0.7}};  // alone it would have 0.5 / 0.3, over its need of 1
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::too_dim);
    CHECK(flags[0].culprit_kind == CulpritKind::colony);
    CHECK(flags[0].culprit == 0);
}

TEST_CASE("too much light is distinguished from too little") {
    const auto flags = flags_of(40.0, 7.0, [](Snapshot& snapshot) {
        snapshot.colonies[0].net_carbon = snapshot.colonies[0].net_others_at_baseline = -0.1;
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::too_bright);
    CHECK(flags[0].culprit_kind == CulpritKind::lamp);
}

TEST_CASE("tissue lost is flagged by what killed it, once") {
    const auto flags = flags_of(30.0, 7.0, [](Snapshot& snapshot) {
        ColonyState& disc = snapshot.reef.colonies[1];
        if (snapshot.day_d < 10.0) return;
        disc.lost = {0.1, 0.1, 0.1, 0.1};
        snapshot.colonies[1].sand_by = {{SandShare::Kind::pump, 0, 0.8}};
        snapshot.colonies[1].stung_by = 0;
        snapshot.colonies[1].overgrown_by = 0;
    });
    REQUIRE(flags.size() == 4);
    CHECK(flags[0].kind == FlagKind::starved);
    CHECK(flags[1].kind == FlagKind::buried);
    CHECK(flags[1].culprit_kind == CulpritKind::pump);
    CHECK(flags[1].share == Approx(0.8));
    CHECK(flags[2].kind == FlagKind::stung);
    CHECK(flags[2].culprit == 0);
    CHECK(flags[3].kind == FlagKind::overgrown);
    for (const Flag& flag : flags) CHECK(flag.day_d == Approx(14.0));
}

TEST_CASE("flow outside a coral's range is flagged after thirty days without a break") {
    Layout layout = plate_and_bed_coral();
    layout.taxa[1].flow_low_m_s = 0.02;
    layout.taxa[1].flow_high_m_s = 0.15;
    FlagDetector detector(layout);
    for (int day = 0; day <= 70; day += 5) {
        Snapshot snapshot = snapshot_on(day);
        if (day != 20) snapshot.colonies[1].flow_speed_m_s = 0.01;
        detector.take(snapshot);
    }
    REQUIRE(detector.flags().size() == 1);
    CHECK(detector.flags()[0].kind == FlagKind::flow_poor);
    CHECK(detector.flags()[0].day_d == Approx(55.0));  // out of range again since day 25
}

TEST_CASE("a colony that has grown against something is outgrown") {
    const auto flags = flags_of(20.0, 7.0, [](Snapshot& snapshot) {
        snapshot.reef.colonies[0].touching.glass = snapshot.day_d > 8.0;
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::outgrown);
    CHECK(flags[0].day_d == Approx(14.0));
}

TEST_CASE("the absent and the dead raise nothing more") {
    const auto flags = flags_of(60.0, 7.0, [](Snapshot& snapshot) {
        snapshot.reef.colonies[0].present = false;
        snapshot.reef.colonies[1].stage = Stage::dead;
        for (ColonyObservation& found : snapshot.colonies) found.net_carbon = -1.0;
    });
    CHECK(flags.empty());
}

TEST_CASE("a coral that has walked farther than its breadth from where it was put has strayed") {
    const auto flags = flags_of(60.0, 7.0, [](Snapshot& snapshot) {
        snapshot.reef.colonies[1].position_m = Vec3(0.5 + 0.005 * snapshot.day_d, 0.5, 0.0);
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::strayed);
    CHECK(flags[0].colony == 1);
    CHECK(flags[0].day_d == Approx(21.0));  // 10.5 cm, and it is 10 cm across
    CHECK(flags[0].culprit_kind == CulpritKind::self);
}

TEST_CASE("where its keeper has moved it is a coral's place from then on") {
    const auto flags = flags_of(60.0, 7.0, [](Snapshot& snapshot) {
        const Vec3 there(1.5, 0.5, 0.0);
        snapshot.reef.colonies[1].position_m = snapshot.day_d < 14.0 ? Vec3(0.5, 0.5, 0.0) : there;
        if (snapshot.day_d == 14.0) {
            AppliedAction moved;
            moved.kind = ActionKind::move;
            moved.colony = 1;
            moved.to_m = there;
            snapshot.reef.applied_actions = {moved};
        }
    });
    CHECK(flags.empty());
}

TEST_CASE("a fall is flagged with its cause and the coral it fell onto") {
    const FallCause why = GENERATE(FallCause::flow, FallCause::slope, FallCause::edge);
    const auto flags = flags_of(30.0, 7.0, [why](Snapshot& snapshot) {
        const Vec3 up(0.5, 0.5, 0.3), down(0.6, 0.5, 0.05);
        snapshot.reef.colonies[1].position_m = snapshot.day_d < 14.0 ? up : down;
        if (snapshot.day_d == 14.0) snapshot.reef.falls = {{1, why, up, down, 0, 0.25, 0.2}};
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::fallen);
    CHECK(flags[0].day_d == Approx(14.0));
    CHECK(flags[0].culprit_kind ==
          (why == FallCause::flow ? CulpritKind::pump : CulpritKind::self));
    const std::string words = flag_text(plate_and_bed_coral(), flags[0]);
    CHECK_THAT(words, Catch::Contains("'disc'") && Catch::Contains("falls 25 cm onto 'plate'"));
    const char* expected = why == FallCause::flow    ? "gust of 25 cm/s"
                           : why == FallCause::slope ? "too steep"
                                                     : "no longer rests";
    CHECK_THAT(words, Catch::Contains(expected));
}

TEST_CASE("a fall onto an unknown coral of a broken file names none") {
    Flag fall;
    fall.kind = FlagKind::fallen;
    fall.colony = 1;
    fall.detail = {
        {"fell_cm", 25.0},
        {"onto_colony", GENERATE(-1.0, 2.0, 1e300, std::numeric_limits<double>::quiet_NaN())}};
    CHECK_THAT(flag_text(plate_and_bed_coral(), fall), Catch::Contains("falls 25 cm at"));
}

TEST_CASE("tissue lost to chemistry is distinguished from tentacles") {
    const bool chemistry = GENERATE(false, true);
    const auto flags = flags_of(14.0, 7.0, [chemistry](Snapshot& snapshot) {
        snapshot.reef.colonies[1].lost.to_stings = 0.1;
        snapshot.colonies[1].stung_by = 0;
        snapshot.colonies[1].by_chemistry = chemistry;
    });
    REQUIRE(flags.size() == 1);
    CHECK(flags[0].kind == FlagKind::stung);
    CHECK_THAT(flag_text(plate_and_bed_coral(), flags[0]),
               Catch::Contains(chemistry ? "chemicals" : "tentacles"));
}
