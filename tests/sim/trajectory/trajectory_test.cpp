// What is written to a trajectory is what is read from it, and the same run gives the same bytes.
#include "sim/trajectory/trajectory.h"

#include <catch2/catch.hpp>

#include "sim/base/atomic_file.h"
#include "sim/trajectory/snapshot_series.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;
using synthetic::kColonies;
using synthetic::write_run;

namespace {

/// As it comes back from a number stored in single precision.
double stored(double value) { return static_cast<double>(static_cast<float>(value)); }

void check_shade(const ColonyRecord& record, int colony) {
    REQUIRE(record.shade_by.size() == static_cast<std::size_t>(std::min(colony, kShadeRanks)));
    for (int rank = 0; rank < static_cast<int>(record.shade_by.size()); ++rank) {
        const ShadeShare& shade = record.shade_by[static_cast<std::size_t>(rank)];
        CHECK(shade.colony == rank);
        CHECK(shade.share == std::ldexp(1.0, -1 - rank));
    }
    // Shares of 2^-1 … 2^-n sum to 1 - 2^-n.
    const double others = colony > kShadeRanks ? std::ldexp(1.0, -8) - std::ldexp(1.0, -colony) : 0;
    CHECK(record.shade_by_other == stored(others));
}

void check_present(const ColonyRecord& record, int member, int snapshot, int colony) {
    const ColonyState state = synthetic::state(member, snapshot, colony);
    const ColonyObservation observation = synthetic::observation(member, snapshot, colony);
    CHECK(record.stage == state.stage);
    for (int axis = 0; axis < 3; ++axis)
        CHECK(record.position_m[axis] == stored(state.position_m[axis]));
    for (std::size_t s = 0; s < kSectors; ++s)
        CHECK(record.radius_m[s] == stored(state.radius_m[s]));
    CHECK(record.diameter_m == stored(mean_diameter_m(state.radius_m)));
    CHECK(record.height_m == stored(state.height_m));
    CHECK(record.live_fraction == stored(state.live_fraction));
    CHECK(record.ppfd_mean_umol_m2_s == stored(observation.ppfd_mean_umol_m2_s));
    CHECK(record.dli_mol_m2_d == stored(observation.dli_mol_m2_d));
    CHECK(record.need_dli_mol_m2_d == stored(observation.need_dli_mol_m2_d));
    CHECK(record.net_carbon == stored(observation.net_carbon));
    CHECK(record.reserve == stored(state.reserve));
    CHECK(record.sand_kg_m2 == stored(state.sand_kg_m2));
    CHECK(record.flow_speed_m_s == stored(observation.flow_speed_m_s));
    check_shade(record, colony);
}

void check_absent(const ColonyRecord& record) {
    CHECK(record.stage == Stage::absent);
    CHECK(std::isnan(record.position_m.x()));
    CHECK(std::isnan(record.radius_m[0]));
    CHECK(std::isnan(record.dli_mol_m2_d));
    CHECK(record.shade_by.empty());
}

void check_snapshot(const Trajectory& run, int member, int snapshot, int colonies) {
    const auto records = run.colonies_at(member, snapshot);
    REQUIRE(records.size() == static_cast<std::size_t>(colonies));
    for (int i = 0; i < colonies; ++i) {
        const ColonyRecord& record = records[static_cast<std::size_t>(i)];
        REQUIRE(record.present == synthetic::state(member, snapshot, i).present);
        record.present ? check_present(record, member, snapshot, i) : check_absent(record);
    }
    const BedObservation bed = run.bed_at(member, snapshot);
    const BedObservation expected = synthetic::snapshot(member, snapshot, 0).bed;
    REQUIRE(bed.ppfd_umol_m2_s.size() == expected.ppfd_umol_m2_s.size());
    for (std::size_t cell = 0; cell < bed.ppfd_umol_m2_s.size(); ++cell) {
        CHECK(bed.ppfd_umol_m2_s[cell] == stored(expected.ppfd_umol_m2_s[cell]));
        CHECK(bed.shear_stress_Pa[cell] == stored(expected.shear_stress_Pa[cell]));
        CHECK(bed.deposition_kg_m2_d[cell] == stored(expected.deposition_kg_m2_d[cell]));
    }
}

void check_same(const Flag& found, const Flag& expected) {
    CHECK(found.kind == expected.kind);
    CHECK(found.member == expected.member);
    CHECK(found.month == expected.month);
    CHECK(found.day_d == expected.day_d);
    CHECK(found.colony == expected.colony);
    CHECK(found.culprit_kind == expected.culprit_kind);
    CHECK(found.culprit == expected.culprit);
    CHECK(found.share == expected.share);
    CHECK(found.detail == expected.detail);
}

}  // namespace

TEST_CASE("a run reads back as written") {
    const synthetic::Folder folder;
    const int snapshots = GENERATE(1, 15, 16, 17, 40);
    write_run(folder / "run.h5", snapshots);
    CHECK_FALSE(std::filesystem::exists(folder / "run.h5.part"));
    const Trajectory run(folder / "run.h5");
    CHECK(run.complete());
    REQUIRE(run.snapshots(0) == snapshots);
    REQUIRE(run.days_d().size() == static_cast<std::size_t>(snapshots));
    for (int i = 0; i < snapshots; ++i) {
        CHECK(run.days_d()[static_cast<std::size_t>(i)] == 7.0 * i);
        check_snapshot(run, 0, i, kColonies);
    }
    CHECK_THROWS_AS(run.colonies_at(0, snapshots), std::out_of_range);
    CHECK_THROWS_AS(run.bed_at(1, 0), std::out_of_range);
}

TEST_CASE("the provenance of a run reads back") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    const Trajectory run(folder / "run.h5");
    const Layout layout = synthetic::layout(kColonies);
    CHECK(run.title() == layout.title);
    CHECK(to_string(run.start()) == "2027-01-01");
    CHECK(run.facts().seed == synthetic::facts().seed);
    CHECK(run.facts().program_version == "0.1.0");
    CHECK(run.facts().model_version == "7");
    CHECK(run.facts().layout_text == synthetic::facts().layout_text);
    CHECK(run.facts().traits_text == synthetic::facts().traits_text);
    CHECK(run.bed_grid().nx == synthetic::bed().nx);
    CHECK(run.bed_grid().ny == synthetic::bed().ny);
    CHECK(run.bed_grid().cell_x_m == synthetic::bed().cell_x_m);
    CHECK(run.bed_grid().cell_y_m == synthetic::bed().cell_y_m);
    REQUIRE(run.colonies().size() == layout.colonies.size());
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        CHECK(run.colonies()[i].name == layout.colonies[i].name);
        CHECK(run.colonies()[i].taxon == layout.taxon_of(layout.colonies[i]).id);
        CHECK(run.colonies()[i].form == layout.taxon_of(layout.colonies[i]).form);
        CHECK(run.colonies()[i].on == layout.colonies[i].on);
        CHECK(run.colonies()[i].facing_azimuth_rad == layout.colonies[i].facing_azimuth_rad);
        CHECK(run.colonies()[i].facing_tilt_rad == layout.colonies[i].facing_tilt_rad);
    }
}

TEST_CASE("flags, events and flow read back") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 2);
    const Trajectory run(folder / "run.h5");
    REQUIRE(run.flags().size() == 1);
    check_same(run.flags()[0], synthetic::flag());
    REQUIRE(run.events().size() == 1);
    CHECK(run.events()[0].day_d == 7.0);
    CHECK(run.events()[0].kind == "trim");
    CHECK(run.events()[0].colony == 3);
    CHECK(run.events()[0].text == "A3 trimmed to 15 cm");
    const auto flow = run.flow();
    REQUIRE(flow);
    CHECK(flow->x_m == synthetic::flow().x_m);
    CHECK(flow->y_m == synthetic::flow().y_m);
    CHECK(flow->z_m == synthetic::flow().z_m);
    CHECK(flow->states == 2);
    CHECK(flow->velocity_m_s == synthetic::flow().velocity_m_s);
    CHECK(flow->turbulent_speed_m_s == synthetic::flow().turbulent_speed_m_s);
}

TEST_CASE("a tank without colonies, flow, flags or events is a run like any other") {
    const synthetic::Folder folder;
    TrajectoryWriter writer(folder / "run.h5", synthetic::layout(0), synthetic::bed(),
                            synthetic::facts());
    for (int i = 0; i < 18; ++i) writer.take(synthetic::snapshot(0, i, 0));
    writer.finish();
    const Trajectory run(folder / "run.h5");
    REQUIRE(run.snapshots(0) == 18);
    check_snapshot(run, 0, 17, 0);
    CHECK(run.flags().empty());
    CHECK(run.events().empty());
    CHECK_FALSE(run.flow());
}

TEST_CASE("texts longer than an HDF5 header are stored in full") {
    const synthetic::Folder folder;
    RunProvenance facts = synthetic::facts();
    facts.traits_text.assign(300'000, 'x');
    TrajectoryWriter(folder / "run.h5", synthetic::layout(1), synthetic::bed(), facts).finish();
    CHECK(Trajectory(folder / "run.h5").facts().traits_text == facts.traits_text);
}

TEST_CASE("members may be written in sequence or interleaved") {
    const synthetic::Folder folder;
    const int members = 3, snapshots = 20, colonies = 2;
    const bool by_turns = GENERATE(false, true);
    TrajectoryWriter writer(folder / "run.h5", synthetic::layout(colonies), synthetic::bed(),
                            synthetic::facts(members));
    for (int k = 0; k < members * snapshots; ++k) {
        const int member = by_turns ? k % members : k / snapshots;
        const int index = by_turns ? k / members : k % snapshots;
        writer.take(member, synthetic::snapshot(member, index, colonies));
        if (index == snapshots - 1) writer.end_member(member);
    }
    Flag of_the_last = synthetic::flag(members - 1);
    of_the_last.colony = of_the_last.culprit = 1;
    writer.add(of_the_last);
    writer.finish();
    const Trajectory run(folder / "run.h5");
    REQUIRE(run.members() == members);
    REQUIRE(run.flags().size() == 1);
    check_same(run.flags()[0], of_the_last);
    for (int member = 0; member < members; ++member) {
        REQUIRE(run.snapshots(member) == snapshots);
        for (int i = 0; i < snapshots; ++i) check_snapshot(run, member, i, colonies);
    }
}

TEST_CASE("the same run gives the same bytes, whenever it is written") {
    const synthetic::Folder folder;
    write_run(folder / "first.h5", 40);
    ::sleep(2);  // HDF5 keeps times in whole seconds
    write_run(folder / "second.h5", 40);
    const std::string first = synthetic::bytes_of(folder / "first.h5");
    CHECK_FALSE(first.empty());
    CHECK(first == synthetic::bytes_of(folder / "second.h5"));
}

TEST_CASE("an interrupted run leaves a readable part with all its snapshots") {
    const synthetic::Folder folder;
    {
        TrajectoryWriter writer(folder / "run.h5", synthetic::layout(5), synthetic::bed(),
                                synthetic::facts());
        for (int i = 0; i < 21; ++i) writer.take(synthetic::snapshot(0, i, 5));
        writer.add(synthetic::flag());
    }
    CHECK_FALSE(std::filesystem::exists(folder / "run.h5"));
    const Trajectory run(folder / "run.h5.part");
    CHECK_FALSE(run.complete());
    REQUIRE(run.snapshots(0) == 21);
    check_snapshot(run, 0, 20, 5);
    CHECK(run.flags().size() == 1);
}

TEST_CASE("a new run replaces the part file of a killed one") {
    const synthetic::Folder folder;
    std::ofstream(folder / "run.h5.part") << "half a file";
    write_run(folder / "run.h5", 2);
    CHECK(Trajectory(folder / "run.h5").snapshots(0) == 2);
}

TEST_CASE("two runs do not write the same file") {
    const synthetic::Folder folder;
    TrajectoryWriter first(folder / "run.h5", synthetic::layout(1), synthetic::bed(),
                           synthetic::facts());
    CHECK_THROWS_AS(TrajectoryWriter(folder / "run.h5", synthetic::layout(1), synthetic::bed(),
                                     synthetic::facts()),
                    OutputError);
    first.take(synthetic::snapshot(0, 0, 1));
    first.finish();
    CHECK(Trajectory(folder / "run.h5").snapshots(0) == 1);
}

TEST_CASE("snapshots that do not match the layout are refused") {
    const synthetic::Folder folder;
    TrajectoryWriter writer(folder / "run.h5", synthetic::layout(2), synthetic::bed(),
                            synthetic::facts(2));
    writer.take(synthetic::snapshot(0, 0, 2));
    CHECK_THROWS_AS(writer.take(synthetic::snapshot(0, 1, 3)), std::invalid_argument);
    CHECK_THROWS_AS(writer.take(2, synthetic::snapshot(0, 1, 2)), std::invalid_argument);
    CHECK_THROWS_AS(writer.take(1, synthetic::snapshot(0, 1, 2)), std::invalid_argument);
    Snapshot no_bed = synthetic::snapshot(0, 1, 2);
    no_bed.bed.deposition_kg_m2_d.clear();
    CHECK_THROWS_AS(writer.take(no_bed), std::invalid_argument);
    writer.finish();
    CHECK(Trajectory(folder / "run.h5").snapshots(0) == 1);
    CHECK_THROWS_AS(writer.take(synthetic::snapshot(0, 1, 2)), std::logic_error);
}
