// extends and change files: what is laid over what, and where messages point afterwards.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <unistd.h>

#include "sim/input/layout/layout_reader.h"

using namespace bedshade;
namespace fs = std::filesystem;

namespace {

constexpr const char* kBase = R"(format = 1
[season]
start = 2027-01-01
[tank]
length = "100 cm"
width = "50 cm"
water_depth = "50 cm"
[[lamp]]
name = "sun"
position = "50 25 cm"
height = "20 cm"
photon_flux = 300
spectrum = { "450 nm" = 1.0 }
[[rock]]
name = "ledge"
shape = "box"
min = "10 10 0 cm"
max = "30 30 10 cm"
[[colony]]
name = "a"
taxon = "fungia"
on = "sand"
position = "60 20 cm"
diameter = "5 cm"
[[colony]]
name = "b"
taxon = "montipora-capricornis"
on = "ledge"
position = "20 20 cm"
diameter = "5 cm"
)";

/// A folder of its own for each test, gone afterwards.
class Folder {
  public:
    explicit Folder(const std::string& name)
        : path_(fs::temp_directory_path() / ("bedshade_merge_" + std::to_string(getpid()) + name)) {
        fs::remove_all(path_);
        fs::create_directories(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    fs::path write(const std::string& name, const std::string& text) const {
        fs::create_directories((path_ / name).parent_path());
        std::ofstream(path_ / name) << text;
        return path_ / name;
    }

  private:
    fs::path path_;
};

LayoutFile with_change(const Folder& folder, const std::string& change) {
    LayoutOptions options;
    options.changes = {folder.write("change.toml", change)};
    return read_layout(folder.write("base.toml", kBase), options);
}

std::vector<Diagnostic> errors_of(const Folder& folder, const std::string& change) {
    try {
        with_change(folder, change);
    } catch (const InputError& error) {
        return error.diagnostics();
    }
    return {};
}

}  // namespace

TEST_CASE("a change file changes, adds and removes by name") {
    const Folder folder("by_name");
    const auto layout = with_change(folder, R"(
[tank]
width = "60 cm"
[[colony]]
name = "b"
diameter = "9 cm"
[[colony]]
name = "a"
remove = true
[[colony]]
name = "c"
taxon = "fungia"
on = "sand"
position = "80 20 cm"
diameter = "4 cm"
)")
                            .layout;
    CHECK(layout.tank.length_m == Approx(1.0));
    CHECK(layout.tank.width_m == Approx(0.6));
    REQUIRE(layout.colonies.size() == 2);
    CHECK(layout.colonies[0].name == "b");
    CHECK(layout.colonies[0].diameter_m == Approx(0.09));
    CHECK(layout.colonies[0].on == "ledge");
    CHECK(layout.colonies[1].name == "c");
}

TEST_CASE("an alternative key of a change replaces the original one") {
    const Folder folder("alternatives");
    const auto layout = with_change(folder, R"(
[[lamp]]
name = "sun"
watts = 100
efficacy = 2
half_angle = "30 deg"
spectrum = { "white 10000 K" = 1.0 }
[[colony]]
name = "b"
position = "20 20 12 cm"
)")
                            .layout;
    CHECK(layout.lamps[0].photon_flux_umol_s == Approx(200.0));
    CHECK(layout.lamps[0].spectrum.size() == 1);
    CHECK(layout.colonies[1].on.empty());
    CHECK(layout.colonies[1].position_m.z() == Approx(0.12));
}

TEST_CASE("messages point at the file the value came from") {
    const Folder folder("places");
    const auto errors = errors_of(folder, "[tank]\nwidth = \"3 cm\"\n");
    REQUIRE_FALSE(errors.empty());
    const auto& width = errors.back();
    CHECK(width.file.find("change.toml") != std::string::npos);
    CHECK(width.line == 2);
    CHECK(width.source_line == "width = \"3 cm\"");

    const auto moved = errors_of(folder, "[tank]\nlength = \"55 cm\"\n");
    REQUIRE(moved.size() == 1);  // the base's colony a now lies outside the changed tank
    CHECK(moved[0].file.find("base.toml") != std::string::npos);
    CHECK(moved[0].source_line == "position = \"60 20 cm\"");
}

TEST_CASE("removing a missing entry suggests the nearest name") {
    const Folder folder("unknown");
    const auto errors = errors_of(folder, "[[rock]]\nname = \"lege\"\nremove = true\n");
    REQUIRE_FALSE(errors.empty());
    CHECK(errors[0].what == "there is no rock \"lege\" to remove");
    CHECK(errors[0].help == "did you mean \"ledge\"?");
}

TEST_CASE("readings and actions, which have no names, are added") {
    const Folder folder("unnamed");
    LayoutOptions options;
    options.changes = {folder.write("1.toml", "[[action]]\nmonth = 2\ndo = \"feed\"\nfood = 1\n"),
                       folder.write("2.toml", "[[action]]\nmonth = 3\ndo = \"clean\"\n")};
    const auto layout = read_layout(folder.write("base.toml", kBase), options).layout;
    REQUIRE(layout.actions.size() == 2);
    CHECK(layout.actions[1].kind == ActionKind::clean);
}

TEST_CASE("extends is relative to its own file, and may be a chain") {
    const Folder folder("chain");
    folder.write("shelf/base.toml", kBase);
    folder.write("shelf/mid.toml", "extends = \"base.toml\"\ntitle = \"mid\"\n");
    const auto layout =
        read_layout(
            folder.write("top.toml", "extends = \"shelf/mid.toml\"\n[season]\nmonths = 6\n"))
            .layout;
    CHECK(layout.title == "mid");
    CHECK(layout.season.months == 6);
    CHECK(layout.colonies.size() == 2);
}

TEST_CASE("a colony within a millimetre of the sand is on it, unless a rock is there") {
    const Folder folder("on_sand");
    const auto layout = with_change(folder, R"(
[[colony]]
name = "a"
position = "60 20 0.05 cm"
)")
                            .layout;
    CHECK(layout.colonies[0].on_bed());
    const auto errors = errors_of(folder, "[[colony]]\nname = \"a\"\nposition = \"20 20 0 cm\"\n");
    REQUIRE(errors.size() == 1);
    CHECK(errors[0].what == "the base of colony \"a\" is inside rock \"ledge\"");
}
