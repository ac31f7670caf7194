// Damaged trajectories, and files that are none: each is refused with its reason.
#include <H5Cpp.h>
#include <catch2/catch.hpp>
#include <cstdint>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <string>
#include <sys/file.h>
#include <unistd.h>
#include <vector>

#include "sim/base/flag.h"
#include "sim/trajectory/run_layout.h"
#include "sim/trajectory/trajectory.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;
using synthetic::kColonies;
using synthetic::write_run;

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
std::string error_after(const std::function<void(H5::H5File&)>& damage) {
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

TEST_CASE("files that are not trajectories are distinguished") {
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
    CHECK_THAT(error_after([&](H5::H5File& file) {
                   set_attribute(file, "format_version", H5::PredType::NATIVE_UINT64, &later);
               }),
               Contains("its format version is 2, and this program reads up to 1"));
}

TEST_CASE("a trajectory with missing parts is refused with the part") {
    for (const char* name : {"/time", "/written", "/flags", "/events", "/bed/ppfd", "/bed/x",
                             "/colony/dli", "/colony/name", "/colony/outline", "/member"}) {
        CAPTURE(name);
        CHECK_THAT(error_after([&](H5::H5File& file) { file.unlink(name); }),
                   Contains(std::string("it has no dataset ") + name));
    }
    CHECK_THAT(error_after([](H5::H5File& file) { file.unlink("/bed"); }),
               Contains("it has no dataset /bed/x"));
    CHECK_THAT(error_after([](H5::H5File& file) { file.removeAttr("seed"); }),
               Contains("it has no attribute 'seed'"));
}

TEST_CASE("a trajectory with inconsistent parts is refused with the part") {
    CHECK_THAT(error_after([](H5::H5File& file) {
                   replace(file, "/colony/dli", {1, 3, 2});
               }),
               Contains("/colony/dli differs in size from its scales"));
    CHECK_THAT(error_after([](H5::H5File& file) { replace(file, "/colony/dli", {3}); }),
               Contains("/colony/dli has 1 dimensions, not 3"));
    CHECK_THAT(error_after([](H5::H5File& file) { replace(file, "/colony/name", {13}); }),
               Contains("/colony/name does not contain texts"));
    CHECK_THAT(error_after([](H5::H5File& file) { replace(file, "/flags", {1}); }),
               Contains("/flags does not contain a compound"));
}

TEST_CASE("a flow that does not match its grid is refused when it is read") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    {
        H5::H5File file((folder / "run.h5").string(), H5F_ACC_RDWR);
        replace(file, "/flow/velocity", {2, 4, 2, 2, 3});
    }
    CHECK_THROWS_WITH(Trajectory(folder / "run.h5").flow(),
                      Contains("/flow/velocity differs in size from its grid"));
}

TEST_CASE("a run with an invalid layout opens, and is refused where the layout is needed") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    CHECK_THROWS_WITH(layout_of(Trajectory(folder / "run.h5")),
                      Contains("the layout stored in the trajectory cannot be read:\nlayout_text"));
}

TEST_CASE("unknown types in a trajectory are reported") {
    CHECK_THAT(error_after([](H5::H5File& file) {
                   const H5::DataSet form = file.openDataSet("/colony/form");
                   const H5::StrType type = form.getStrType();
                   std::string forms(kColonies * type.getSize(), '\0');
                   for (std::size_t i = 0; i < kColonies; ++i)
                       forms.replace(i * type.getSize(), 3, "fan");
                   form.write(forms.data(), type);
               }),
               Contains("its growth form 'fan' is unknown"));
    CHECK_THAT(error_after([](H5::H5File& file) {
                   const double seed = 1.5;
                   set_attribute(file, "seed", H5::PredType::NATIVE_DOUBLE, &seed);
               }),
               Contains("its attribute 'seed' does not contain whole numbers"));
    CHECK_THAT(error_after([](H5::H5File& file) {
                   const hsize_t count = kColonies;
                   file.unlink("/colony/name");
                   file.createDataSet("/colony/name", H5::StrType(H5::PredType::C_S1, H5T_VARIABLE),
                                      H5::DataSpace(1, &count));
               }),
               Contains("the strings of /colony/name have no fixed length"));
}

TEST_CASE("a flag of unknown kind is refused") {
    const synthetic::Folder folder;
    {
        TrajectoryWriter writer(folder / "run.h5", synthetic::layout(kColonies), synthetic::bed(),
                                synthetic::facts(), nullptr);
        writer.take(synthetic::snapshot(0, 0, kColonies));
        Flag later = synthetic::flag();
        later.kind = static_cast<FlagKind>(kFlagKinds.size());
        writer.add(later);
        writer.finish();
    }
    CHECK_THAT(complaint(folder / "run.h5"), Contains("has a flag or culprit of unknown kind"));
}

TEST_CASE("a trajectory with absurd sizes is refused before allocation") {
    const hsize_t absurd = hsize_t{1} << 40U;
    CHECK_THAT(error_after([&](H5::H5File& file) { replace(file, "/time", {absurd}); }),
               Contains("it claims 1099511627776 frames"));
    CHECK_THAT(error_after([&](H5::H5File& file) { replace(file, "/bed/x", {absurd}); }),
               Contains("over the limit of"));
    CHECK_THAT(
        error_after([&](H5::H5File& file) { replace(file, "/colony/facing_tilt", {absurd}); }),
        Contains("over the limit of"));
}

TEST_CASE("a string heap with corrupt sizes is refused (HDF5 would loop forever)") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    const std::string whole = synthetic::bytes_of(folder / "run.h5");
    const std::size_t store = whole.find(std::string("GCOL\x01\0\0\0", 8));
    REQUIRE(store != std::string::npos);
    // A store's first text: its index, and its size eight bytes on.
    const std::size_t index = store + 16, size = store + 24;
    const auto error_with = [&](std::size_t at, const std::string& bytes) {
        std::string damaged = whole;
        damaged.replace(at, bytes.size(), bytes);
        std::ofstream(folder / "bad.h5", std::ios::binary) << damaged;
        return complaint(folder / "bad.h5");
    };
    const std::string nothing(8, '\0'), all(8, '\xFF');
    CHECK_THAT(error_with(index, std::string(2, '\0') + whole.substr(index + 2, 6) + nothing),
               Contains("its string heap is damaged"));
    CHECK_THAT(error_with(size, all), Contains("its string heap is damaged"));
    CHECK_THAT(error_with(size, "\xF0" + all.substr(1)), Contains("its string heap is damaged"));
    CHECK_THAT(error_with(store + 8, all), Contains("its string heap is truncated"));
    CHECK_THAT(error_with(store + 8, nothing), Contains("its string heap is truncated"));
    CHECK_THAT(error_with(13, "\x04"), Contains("are not eight bytes long"));
    std::ofstream(folder / "late.h5", std::ios::binary) << std::string(512, '\0') << whole;
    CHECK_THAT(complaint(folder / "late.h5"), Contains("it has no HDF5 signature"));
}

TEST_CASE("circular and external links are not datasets") {
    CHECK_THAT(error_after([](H5::H5File& file) {
                   file.unlink("/time");
                   H5Lcreate_soft("/time", file.getId(), "/time", H5P_DEFAULT, H5P_DEFAULT);
               }),
               Contains("it has no dataset /time"));
    CHECK_THAT(error_after([](H5::H5File& file) {
                   file.unlink("/bed/x");
                   H5Lcreate_soft("/bed", file.getId(), "/bed/x", H5P_DEFAULT, H5P_DEFAULT);
               }),
               Contains("it has no dataset /bed/x"));
    // Another file must not be opened for this one, though it holds what is asked for.
    const synthetic::Folder elsewhere;
    write_run(elsewhere / "other.h5", 3);
    CHECK_THAT(error_after([&](H5::H5File& file) {
                   file.unlink("/time");
                   H5Lcreate_external((elsewhere / "other.h5").c_str(), "/time", file.getId(),
                                      "/time", H5P_DEFAULT, H5P_DEFAULT);
               }),
               Contains("it has no dataset /time"));
}

TEST_CASE("values stored in another file are not read") {
    const synthetic::Folder elsewhere;
    std::ofstream(elsewhere / "secret") << "what others must not see";
    CHECK_THAT(error_after([&](H5::H5File& file) {
                   file.unlink("/time");
                   H5::DSetCreatPropList list;
                   list.setExternal((elsewhere / "secret").c_str(), 0, 24);
                   const hsize_t three = 3;
                   file.createDataSet("/time", H5::PredType::IEEE_F64LE, H5::DataSpace(1, &three),
                                      list);
               }),
               Contains("/time keeps its values in another file"));
}

TEST_CASE("a file that unpacks to more than its sizes allow is refused") {
    const hsize_t large = hsize_t{1} << 31U;
    CHECK_THAT(error_after([&](H5::H5File& file) {
                   file.unlink("/bed/x");
                   H5::DSetCreatPropList list;
                   list.setChunk(1, &large);
                   list.setDeflate(9);
                   file.createDataSet("/bed/x", H5::PredType::STD_U8LE, H5::DataSpace(1, &large),
                                      list);
               }),
               Contains("/bed/x does not contain numbers"));
}

TEST_CASE("a changed layout text is detected") {
    const H5::StrType text(H5::PredType::C_S1, H5T_VARIABLE);
    const std::string changed = "title = \"another\"\n";
    CHECK_THAT(
        error_after([&](H5::H5File& file) { set_attribute(file, "layout_text", text, changed); }),
        Contains("its layout_text does not match layout_sha256"));
}

TEST_CASE("a trajectory that another program writes is refused") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    const int other = ::open((folder / "run.h5").c_str(), O_RDWR | O_CLOEXEC);
    REQUIRE(::flock(other, LOCK_EX | LOCK_NB) == 0);
    CHECK_THAT(complaint(folder / "run.h5"), Contains("another program is writing it"));
    ::close(other);
    CHECK(complaint(folder / "run.h5").empty());
}

TEST_CASE("a flag with a detail that is not JSON is refused") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 3);
    std::string bytes = synthetic::bytes_of(folder / "run.h5");
    const std::size_t detail = bytes.find("{\"net_carbon\"");
    REQUIRE(detail != std::string::npos);
    bytes[detail] = '[';
    std::ofstream(folder / "run.h5", std::ios::binary) << bytes;
    CHECK_THAT(complaint(folder / "run.h5"), Contains("/flags has a detail that is not JSON"));
}

TEST_CASE("a truncated trajectory is an error, not a crash") {
    const synthetic::Folder folder;
    write_run(folder / "run.h5", 20);
    const std::string whole = synthetic::bytes_of(folder / "run.h5");
    for (std::size_t tenths = 0; tenths < 10; ++tenths) {
        const std::string head = whole.substr(0, whole.size() * tenths / 10);
        std::ofstream(folder / "cut.h5", std::ios::binary) << head;
        CHECK(complaint(folder / "cut.h5") != "");
    }
}
