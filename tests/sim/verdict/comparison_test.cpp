// Two runs told apart: means by hand, flags matched by kind and name, nothing for twins.
#include "sim/verdict/comparison.h"

#include <catch2/catch.hpp>

#include "sim/report/comparison_report.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

Layout with_colonies(std::vector<const char*> names) {
    Layout layout = black_tank();
    layout.taxa = {plain_coral(Form::laminar, 100.0)};
    layout.pumps.resize(1);
    layout.pumps[0].name = "pump";
    for (const char* name : names)
        layout.colonies.push_back(colony_at(name, 0, Vec3(1.0, 1.0, 0.0), 0.1, 0.02));
    return layout;
}

Flag flag(FlagKind kind, int colony, int month) {
    Flag f;
    f.kind = kind;
    f.colony = colony;
    f.month = month;
    f.day_d = 30.0 * month;
    f.culprit_kind = CulpritKind::pump;
    f.culprit = 0;
    f.share = 1.0;
    return f;
}

Arm arm_of(const Layout& layout, std::vector<Flag> flags) {
    Arm arm;
    arm.layout = &layout;
    arm.flags = std::move(flags);
    arm.colonies.resize(layout.colonies.size());
    arm.grid = {2, 1, 1.0, 2.0};
    arm.bed = {{50.0, 60.0}, {0.01, 0.02}, {0.0, 0.0}, {0.0, 0.0}};
    return arm;
}

Snapshot snapshot_with(double step_d, double dli, double sand_kg_m2, double stress) {
    Snapshot snapshot;
    snapshot.step_d = step_d;
    snapshot.colonies.resize(1);
    snapshot.colonies[0].dli_mol_m2_d = dli;
    snapshot.reef.colonies.resize(1);
    snapshot.reef.colonies[0].sand_kg_m2 = sand_kg_m2;
    snapshot.reef.colonies[0].radius_m.fill(0.05);
    snapshot.bed = {{1.0}, {stress}, {0.0}, {}, {0.0}};
    return snapshot;
}

}  // namespace

TEST_CASE("means of a run weight each step by its days, and the final snapshot has no weight") {
    RunMeans means;
    means.take(snapshot_with(7.0, 2.0, 0.1, 0.01));
    means.take(snapshot_with(3.0, 4.0, 0.3, 0.03));
    means.take(snapshot_with(0.0, 100.0, 0.2, 1.0));
    REQUIRE(means.colonies().size() == 1);
    const ColonyMeans& disc = means.colonies()[0];
    CHECK(disc.days == 10.0);
    CHECK(disc.dli_mol_m2_d == Approx(2.6));
    CHECK(disc.most_sand_kg_m2 == 0.3);
    CHECK(disc.end_live_fraction == 1.0);
    CHECK(means.bed().shear_stress_Pa[0] == Approx(0.016));
}

TEST_CASE("days before a colony is placed or after its removal do not count") {
    RunMeans means;
    Snapshot absent = snapshot_with(7.0, 9.0, 0.0, 0.0);
    absent.reef.colonies[0].present = false;
    means.take(absent);
    CHECK(means.colonies()[0] == ColonyMeans{});
    means.take(snapshot_with(7.0, 2.0, 0.0, 0.0));
    CHECK(means.colonies()[0].dli_mol_m2_d == Approx(2.0));
}

TEST_CASE("identical runs have no difference") {
    const Layout layout = with_colonies({"a", "b"});
    const Arm arm = arm_of(layout, {flag(FlagKind::buried, 0, 3)});
    CHECK(compared(arm, arm).same());
    CHECK(comparison_text(arm, arm, compared(arm, arm)).find("Nothing differs") == 0);
}

TEST_CASE("flags are new, gone or moved, by kind and the colony's name") {
    // The second layout has lost "a", so that "b" has another number there.
    const Layout first = with_colonies({"a", "b"}), second = with_colonies({"b"});
    const Arm before = arm_of(first, {flag(FlagKind::buried, 0, 3), flag(FlagKind::buried, 1, 8),
                                      flag(FlagKind::flow_poor, 1, 2)});
    const Arm after = arm_of(second, {flag(FlagKind::buried, 0, 5), flag(FlagKind::flow_poor, 0, 2),
                                      flag(FlagKind::flow_harsh, 0, 1)});
    const Comparison difference = compared(before, after);
    REQUIRE(difference.flags.size() == 3);
    CHECK(difference.flags[0].after->kind == FlagKind::flow_harsh);
    CHECK_FALSE(difference.flags[0].before);
    CHECK(difference.flags[1].before->colony == 0);
    CHECK_FALSE(difference.flags[1].after);
    CHECK(difference.flags[2].before->month == 8);
    CHECK(difference.flags[2].after->month == 5);
    REQUIRE(difference.colonies.size() == 1);
    CHECK(difference.colonies[0].name == "a");
    CHECK_FALSE(difference.colonies[0].after);
    const std::string text = comparison_text(before, after, difference);
    CHECK(text.find("3 months sooner; it was month 8") != std::string::npos);
    CHECK(text.find("  new    month 1") != std::string::npos);
    CHECK(text.find("  gone   month 3") != std::string::npos);
}

TEST_CASE("the same flag with another culprit is reported") {
    const Layout layout = with_colonies({"a", "b"});
    Flag by_coral = flag(FlagKind::starved, 0, 3);
    by_coral.culprit_kind = CulpritKind::colony;
    by_coral.culprit = 1;
    Flag by_pump = flag(FlagKind::starved, 0, 3);
    CHECK(compared(arm_of(layout, {by_coral}), arm_of(layout, {by_pump})).flags.size() == 1);
}

TEST_CASE("maps are shown side by side only where they differ") {
    const Layout layout = with_colonies({"a"});
    const Arm before = arm_of(layout, {});
    Arm after = arm_of(layout, {});
    after.bed.shear_stress_Pa[0] = 0.035;
    const std::string text = comparison_text(before, after, compared(before, after));
    CHECK(text.find("10.0   20.0 |    35.0   20.0") != std::string::npos);
    CHECK(text.find("sand deposition") == std::string::npos);
}
