// What is written to a trajectory is what is read from it, and the same run gives the same bytes.
#include "sim/output/trajectory.h"

#include <H5Cpp.h>
#include <catch2/catch.hpp>
#include <functional>

#include "sim/output/frame_series.h"
#include "sim/output/output_path.h"
#include "sim/output/trajectory_writer.h"

#include "synthetic_run.h"

using namespace bedshade;

namespace {

constexpr int kColonies = 13;

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

void check_present(const ColonyRecord& record, int member, int frame, int colony) {
    const ColonyState state = synthetic::state(member, frame, colony);
    const ColonyFinding finding = synthetic::finding(member, frame, colony);
    CHECK(record.stage == state.stage);
    for (int axis = 0; axis < 3; ++axis)
        CHECK(record.position_m[axis] == stored(state.position_m[axis]));
    for (std::size_t s = 0; s < kSectors; ++s)
        CHECK(record.radius_m[s] == stored(state.radius_m[s]));
    CHECK(record.diameter_m == stored(mean_diameter_m(state.radius_m)));
    CHECK(record.height_m == stored(state.height_m));
    CHECK(record.live_fraction == stored(state.live_fraction));
    CHECK(record.ppfd_mean_umol_m2_s == stored(finding.ppfd_mean_umol_m2_s));
    CHECK(record.dli_mol_m2_d == stored(finding.dli_mol_m2_d));
    CHECK(record.need_dli_mol_m2_d == stored(finding.need_dli_mol_m2_d));
    CHECK(record.net_carbon == stored(finding.net_carbon));
    CHECK(record.reserve == stored(state.reserve));
    CHECK(record.sand_kg_m2 == stored(state.sand_kg_m2));
    CHECK(record.flow_speed_m_s == stored(finding.flow_speed_m_s));
    check_shade(record, colony);
}

void check_absent(const ColonyRecord& record) {
    CHECK(record.stage == Stage::absent);
    CHECK(std::isnan(record.position_m.x()));
    CHECK(std::isnan(record.radius_m[0]));
    CHECK(std::isnan(record.dli_mol_m2_d));
    CHECK(record.shade_by.empty());
}

void check_frame(const Trajectory& run, int member, int frame, int colonies) {
    const auto records = run.colonies_at(member, frame);
    REQUIRE(records.size() == static_cast<std::size_t>(colonies));
    for (int i = 0; i < colonies; ++i) {
        const ColonyRecord& record = records[static_cast<std::size_t>(i)];
        REQUIRE(record.present == synthetic::state(member, frame, i).present);
        record.present ? check_present(record, member, frame, i) : check_absent(record);
    }
    const BedFinding bed = run.bed_at(member, frame);
    const BedFinding expected = synthetic::frame(member, frame, 0).bed;
    REQUIRE(bed.ppfd_umol_m2_s.size() == expected.ppfd_umol_m2_s.size());
    for (std::size_t cell = 0; cell < bed.ppfd_umol_m2_s.size(); ++cell) {
        CHECK(bed.ppfd_umol_m2_s[cell] == stored(expected.ppfd_umol_m2_s[cell]));
        CHECK(bed.shear_stress_Pa[cell] == stored(expected.shear_stress_Pa[cell]));
        CHECK(bed.fallout_kg_m2_d[cell] == stored(expected.fallout_kg_m2_d[cell]));
    }
}

Flag some_flag(int member = 0) {
    Flag flag;
    flag.kind = FlagKind::light_short;
    flag.member = member;
    flag.month = 13;
    flag.day_d = 371.0;
    flag.colony = 4;
    flag.culprit_kind = CulpritKind::colony;
    flag.culprit = 2;
    flag.share = 0.1;  // no exact binary fraction
    flag.detail = {{"net_carbon", -0.1}, {"dli_mol_m2_d", 1.0 / 3.0}, {"a \"quoted\" name", 0.0}};
    return flag;
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

/// A finished run of one member.
void write_run(const std::filesystem::path& path, int frames) {
    const FlowSample flow = synthetic::flow();
    TrajectoryWriter writer(path, synthetic::layout(kColonies), synthetic::bed(),
                            synthetic::facts(), &flow);
    for (int i = 0; i < frames; ++i) writer.take(synthetic::frame(0, i, kColonies));
    writer.add(some_flag());
    writer.add(EventRecord{7.0, 0, "trim", 3, "A3 trimmed to 15 cm"});
    writer.finish();
}

}  // namespace

TEST_CASE("a run comes back as it was written") {
    const synthetic::Folder folder;
    const int frames = GENERATE(1, 15, 16, 17, 40);
    write_run(folder / "run.h5", frames);
    CHECK_FALSE(std::filesystem::exists(folder / "run.h5.part"));
    const Trajectory run(folder / "run.h5");
    CHECK(run.complete());
    REQUIRE(run.frames(0) == frames);
    REQUIRE(run.days_d().size() == static_cast<std::size_t>(frames));
    for (int i = 0; i < frames; ++i) {
        CHECK(run.days_d()[static_cast<std::size_t>(i)] == 7.0 * i);
        check_frame(run, 0, i, kColonies);
    }
    CHECK_THROWS_AS(run.colonies_at(0, frames), std::out_of_range);
    CHECK_THROWS_AS(run.bed_at(1, 0), std::out_of_range);
}

TEST_CASE("what a run says about itself comes back") {
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

TEST_CASE("flags, events and flow come back") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 2);
    const Trajectory run(folder / "run.h5");
    REQUIRE(run.flags().size() == 1);
    check_same(run.flags()[0], some_flag());
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
    for (int i = 0; i < 18; ++i) writer.take(synthetic::frame(0, i, 0));
    writer.finish();
    const Trajectory run(folder / "run.h5");
    REQUIRE(run.frames(0) == 18);
    check_frame(run, 0, 17, 0);
    CHECK(run.flags().empty());
    CHECK(run.events().empty());
    CHECK_FALSE(run.flow());
}

TEST_CASE("texts longer than an HDF5 header can hold are kept whole") {
    const synthetic::Folder folder;
    RunFacts facts = synthetic::facts();
    facts.traits_text.assign(300'000, 'x');
    TrajectoryWriter(folder / "run.h5", synthetic::layout(1), synthetic::bed(), facts).finish();
    CHECK(Trajectory(folder / "run.h5").facts().traits_text == facts.traits_text);
}

TEST_CASE("members may come one after another or by turns") {
    const synthetic::Folder folder;
    const int members = 3, frames = 20, colonies = 2;
    const bool by_turns = GENERATE(false, true);
    TrajectoryWriter writer(folder / "run.h5", synthetic::layout(colonies), synthetic::bed(),
                            synthetic::facts(members));
    for (int k = 0; k < members * frames; ++k) {
        const int member = by_turns ? k % members : k / frames;
        const int index = by_turns ? k / members : k % frames;
        writer.take(member, synthetic::frame(member, index, colonies));
        if (index == frames - 1) writer.end_member(member);
    }
    Flag of_the_last = some_flag(members - 1);
    of_the_last.colony = of_the_last.culprit = 1;
    writer.add(of_the_last);
    writer.finish();
    const Trajectory run(folder / "run.h5");
    REQUIRE(run.members() == members);
    REQUIRE(run.flags().size() == 1);
    check_same(run.flags()[0], of_the_last);
    for (int member = 0; member < members; ++member) {
        REQUIRE(run.frames(member) == frames);
        for (int i = 0; i < frames; ++i) check_frame(run, member, i, colonies);
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

TEST_CASE("a run that is stopped leaves a readable part with all its frames") {
    const synthetic::Folder folder;
    {
        TrajectoryWriter writer(folder / "run.h5", synthetic::layout(5), synthetic::bed(),
                                synthetic::facts());
        for (int i = 0; i < 21; ++i) writer.take(synthetic::frame(0, i, 5));
        writer.add(some_flag());
    }
    CHECK_FALSE(std::filesystem::exists(folder / "run.h5"));
    const Trajectory run(folder / "run.h5.part");
    CHECK_FALSE(run.complete());
    REQUIRE(run.frames(0) == 21);
    check_frame(run, 0, 20, 5);
    CHECK(run.flags().size() == 1);
}

TEST_CASE("a new run replaces what a killed one left") {
    const synthetic::Folder folder;
    std::ofstream(folder / "run.h5.part") << "half a file";
    write_run(folder / "run.h5", 2);
    CHECK(Trajectory(folder / "run.h5").frames(0) == 2);
}

TEST_CASE("two runs do not write the same file") {
    const synthetic::Folder folder;
    TrajectoryWriter first(folder / "run.h5", synthetic::layout(1), synthetic::bed(),
                           synthetic::facts());
    CHECK_THROWS_AS(TrajectoryWriter(folder / "run.h5", synthetic::layout(1), synthetic::bed(),
                                     synthetic::facts()),
                    OutputError);
    first.take(synthetic::frame(0, 0, 1));
    first.finish();
    CHECK(Trajectory(folder / "run.h5").frames(0) == 1);
}

TEST_CASE("frames that do not fit the layout are refused") {
    const synthetic::Folder folder;
    TrajectoryWriter writer(folder / "run.h5", synthetic::layout(2), synthetic::bed(),
                            synthetic::facts(2));
    writer.take(synthetic::frame(0, 0, 2));
    CHECK_THROWS_AS(writer.take(synthetic::frame(0, 1, 3)), std::invalid_argument);
    CHECK_THROWS_AS(writer.take(2, synthetic::frame(0, 1, 2)), std::invalid_argument);
    CHECK_THROWS_AS(writer.take(1, synthetic::frame(0, 1, 2)), std::invalid_argument);
    Frame no_bed = synthetic::frame(0, 1, 2);
    no_bed.bed.fallout_kg_m2_d.clear();
    CHECK_THROWS_AS(writer.take(no_bed), std::invalid_argument);
    writer.finish();
    CHECK(Trajectory(folder / "run.h5").frames(0) == 1);
    CHECK_THROWS_AS(writer.take(synthetic::frame(0, 1, 2)), std::logic_error);
}

namespace {

using Catch::Matchers::Contains;

std::string complaint(const std::filesystem::path& path) {
    try {
        const Trajectory run(path);
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "";
}

/// A run with something done to it by HDF5's own means.
std::string complaint_after(const std::function<void(H5::H5File&)>& damage) {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    {
        H5::H5File file((folder / "run.h5").string(), H5F_ACC_RDWR);
        damage(file);
    }
    return complaint(folder / "run.h5");
}

/// Replaces a dataset by one of doubles of another shape.
void replace(H5::H5File& file, const std::string& name, const std::vector<hsize_t>& shape) {
    file.unlink(name);
    H5::DSetCreatPropList list;
    const std::vector<hsize_t> chunk(shape.size(), 1);
    list.setChunk(static_cast<int>(chunk.size()), chunk.data());
    file.createDataSet(name, H5::PredType::IEEE_F64LE,
                       H5::DataSpace(static_cast<int>(shape.size()), shape.data()), list);
}

template <typename Value>
void set_attribute(H5::H5File& file, const std::string& name, const H5::DataType& type,
                   const Value& value) {
    file.removeAttr(name);
    file.createAttribute(name, type, H5::DataSpace(H5S_SCALAR)).write(type, value);
}

}  // namespace

TEST_CASE("files that are no trajectories are told apart") {
    const synthetic::Folder folder;
    CHECK_THAT(complaint(folder / "none.h5"), Contains("none.h5': there is no such file"));
    CHECK_THAT(complaint(folder.path()), Contains("it is a folder"));
    std::ofstream(folder / "empty.h5");
    CHECK_THAT(complaint(folder / "empty.h5"), Contains("it is not an HDF5 file"));
    std::ofstream(folder / "text.h5") << "title = \"a layout\"\n";
    CHECK_THAT(complaint(folder / "text.h5"), Contains("it is not an HDF5 file"));
    H5::H5File((folder / "other.h5").string(), H5F_ACC_TRUNC);
    CHECK_THAT(complaint(folder / "other.h5"), Contains("but not a bedshade trajectory"));
}

TEST_CASE("a later format is refused with both numbers") {
    const std::uint64_t later = 2;
    CHECK_THAT(complaint_after([&](H5::H5File& file) {
                   set_attribute(file, "format_version", H5::PredType::NATIVE_UINT64, &later);
               }),
               Contains("its format version is 2, and this program reads up to 1"));
}

TEST_CASE("a trajectory that lacks something says what") {
    for (const char* name : {"/time", "/written", "/flags", "/events", "/bed/ppfd", "/bed/x",
                             "/colony/dli", "/colony/name", "/colony/outline", "/member"}) {
        CAPTURE(name);
        CHECK_THAT(complaint_after([&](H5::H5File& file) { file.unlink(name); }),
                   Contains(std::string("it has no dataset ") + name));
    }
    CHECK_THAT(complaint_after([](H5::H5File& file) { file.unlink("/bed"); }),
               Contains("it has no dataset /bed/x"));
    CHECK_THAT(complaint_after([](H5::H5File& file) { file.removeAttr("seed"); }),
               Contains("it has no attribute 'seed'"));
}

TEST_CASE("a trajectory whose parts do not fit says which") {
    CHECK_THAT(complaint_after([](H5::H5File& file) {
                   replace(file, "/colony/dli", {1, 3, 2});
               }),
               Contains("/colony/dli has another size than its scales"));
    CHECK_THAT(complaint_after([](H5::H5File& file) { replace(file, "/colony/dli", {3}); }),
               Contains("/colony/dli has 1 dimensions, not 3"));
    CHECK_THAT(complaint_after([](H5::H5File& file) { replace(file, "/colony/name", {13}); }),
               Contains("/colony/name does not hold texts"));
    CHECK_THAT(complaint_after([](H5::H5File& file) { replace(file, "/flags", {1}); }),
               Contains("/flags does not hold a compound"));
}

TEST_CASE("a trajectory of kinds that this program does not know says which") {
    CHECK_THAT(complaint_after([](H5::H5File& file) {
                   const H5::DataSet form = file.openDataSet("/colony/form");
                   const H5::StrType type = form.getStrType();
                   std::string forms(kColonies * type.getSize(), '\0');
                   for (std::size_t i = 0; i < kColonies; ++i)
                       forms.replace(i * type.getSize(), 3, "fan");
                   form.write(forms.data(), type);
               }),
               Contains("it knows a growth form 'fan'"));
    CHECK_THAT(complaint_after([](H5::H5File& file) {
                   const double seed = 1.5;
                   set_attribute(file, "seed", H5::PredType::NATIVE_DOUBLE, &seed);
               }),
               Contains("its attribute 'seed' does not hold whole numbers"));
    CHECK_THAT(complaint_after([](H5::H5File& file) {
                   const hsize_t count = kColonies;
                   file.unlink("/colony/name");
                   file.createDataSet("/colony/name", H5::StrType(H5::PredType::C_S1, H5T_VARIABLE),
                                      H5::DataSpace(1, &count));
               }),
               Contains("the texts of /colony/name have no fixed length"));
}

TEST_CASE("a flag of a kind that comes later than this program is refused") {
    const synthetic::Folder folder;
    {
        TrajectoryWriter writer(folder / "run.h5", synthetic::layout(kColonies), synthetic::bed(),
                                synthetic::facts(), nullptr);
        writer.take(synthetic::frame(0, 0, kColonies));
        Flag later = some_flag();
        later.kind = static_cast<FlagKind>(kFlagKinds.size());
        writer.add(later);
        writer.finish();
    }
    CHECK_THAT(complaint(folder / "run.h5"), Contains("holds a flag or culprit of no known kind"));
}

TEST_CASE("a trajectory that claims absurd sizes is refused before memory is asked for") {
    const hsize_t absurd = hsize_t{1} << 40U;
    CHECK_THAT(complaint_after([&](H5::H5File& file) { replace(file, "/time", {absurd}); }),
               Contains("it claims 1099511627776 frames"));
    CHECK_THAT(complaint_after([&](H5::H5File& file) { replace(file, "/bed/x", {absurd}); }),
               Contains("over the limit of"));
    CHECK_THAT(
        complaint_after([&](H5::H5File& file) { replace(file, "/colony/facing_tilt", {absurd}); }),
        Contains("over the limit of"));
}

TEST_CASE("a store of texts whose sizes lead nowhere is refused, which HDF5 would walk for ever") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    const std::string whole = synthetic::bytes_of(folder / "run.h5");
    const std::size_t store = whole.find(std::string("GCOL\x01\0\0\0", 8));
    REQUIRE(store != std::string::npos);
    // A store's first text: its index, and its size eight bytes on.
    const std::size_t index = store + 16, size = store + 24;
    const auto complaint_with = [&](std::size_t at, const std::string& bytes) {
        std::string damaged = whole;
        damaged.replace(at, bytes.size(), bytes);
        std::ofstream(folder / "bad.h5", std::ios::binary) << damaged;
        return complaint(folder / "bad.h5");
    };
    const std::string nothing(8, '\0'), all(8, '\xFF');
    CHECK_THAT(complaint_with(index, std::string(2, '\0') + whole.substr(index + 2, 6) + nothing),
               Contains("its store of texts is damaged"));
    CHECK_THAT(complaint_with(size, all), Contains("its store of texts is damaged"));
    CHECK_THAT(complaint_with(size, "\xF0" + all.substr(1)),
               Contains("its store of texts is damaged"));
    CHECK_THAT(complaint_with(store + 8, all), Contains("its store of texts is cut short"));
    CHECK_THAT(complaint_with(store + 8, nothing), Contains("its store of texts is cut short"));
    CHECK_THAT(complaint_with(13, "\x04"), Contains("do not take eight bytes"));
    std::ofstream(folder / "late.h5", std::ios::binary) << std::string(512, '\0') << whole;
    CHECK_THAT(complaint(folder / "late.h5"), Contains("it does not begin as an HDF5 file does"));
}

TEST_CASE("links that lead in circles or out of the file are no datasets") {
    CHECK_THAT(complaint_after([](H5::H5File& file) {
                   file.unlink("/time");
                   H5Lcreate_soft("/time", file.getId(), "/time", H5P_DEFAULT, H5P_DEFAULT);
               }),
               Contains("it has no dataset /time"));
    CHECK_THAT(complaint_after([](H5::H5File& file) {
                   file.unlink("/bed/x");
                   H5Lcreate_soft("/bed", file.getId(), "/bed/x", H5P_DEFAULT, H5P_DEFAULT);
               }),
               Contains("it has no dataset /bed/x"));
    // Another file must not be opened for this one, though it holds what is asked for.
    const synthetic::Folder elsewhere;
    write_run(elsewhere / "other.h5", 3);
    CHECK_THAT(complaint_after([&](H5::H5File& file) {
                   file.unlink("/time");
                   H5Lcreate_external((elsewhere / "other.h5").c_str(), "/time", file.getId(),
                                      "/time", H5P_DEFAULT, H5P_DEFAULT);
               }),
               Contains("it has no dataset /time"));
}

TEST_CASE("values that lie in another file are not read") {
    const synthetic::Folder elsewhere;
    std::ofstream(elsewhere / "secret") << "what others must not see";
    CHECK_THAT(complaint_after([&](H5::H5File& file) {
                   file.unlink("/time");
                   H5::DSetCreatPropList list;
                   list.setExternal((elsewhere / "secret").c_str(), 0, 24);
                   const hsize_t three = 3;
                   file.createDataSet("/time", H5::PredType::IEEE_F64LE, H5::DataSpace(1, &three),
                                      list);
               }),
               Contains("/time keeps its values in another file"));
}

TEST_CASE("a small file that unpacks to far more than its sizes allow is refused") {
    const hsize_t large = hsize_t{1} << 31U;
    CHECK_THAT(complaint_after([&](H5::H5File& file) {
                   file.unlink("/bed/x");
                   H5::DSetCreatPropList list;
                   list.setChunk(1, &large);
                   list.setDeflate(9);
                   file.createDataSet("/bed/x", H5::PredType::STD_U8LE, H5::DataSpace(1, &large),
                                      list);
               }),
               Contains("/bed/x does not hold numbers"));
}

TEST_CASE("a layout text that was changed is noticed") {
    const H5::StrType text(H5::PredType::C_S1, H5T_VARIABLE);
    const std::string changed = "title = \"another\"\n";
    CHECK_THAT(complaint_after(
                   [&](H5::H5File& file) { set_attribute(file, "layout_text", text, changed); }),
               Contains("its layout_text is not the one that layout_sha256 is of"));
}

TEST_CASE("a trajectory cut short anywhere is an error and no crash") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 20);
    const std::string whole = synthetic::bytes_of(folder / "run.h5");
    for (std::size_t tenths = 0; tenths < 10; ++tenths) {
        const std::string head = whole.substr(0, whole.size() * tenths / 10);
        std::ofstream(folder / "cut.h5", std::ios::binary) << head;
        CHECK(complaint(folder / "cut.h5") != "");
    }
}
