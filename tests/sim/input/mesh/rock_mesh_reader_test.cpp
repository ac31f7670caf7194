// Mesh rocks: what OBJ and STL files become in the tank, and what is said of those that will not
// do.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

#include "sim/input/layout/layout_reader.h"

#include "tests/layout_texts.h"
#include "tests/meshes.h"

using namespace bedshade;
using namespace bedshade::test;
namespace fs = std::filesystem;

namespace {

const fs::path kMeshes = fs::path(BEDSHADE_SOURCE_DIR) / "tests/sim/input/mesh/meshes";

std::string layout_with(const std::string& rock_keys) {
    return kTankUnderLamp + R"([[rock]]
name = "scan"
shape = "mesh"
)" + rock_keys +
           '\n';
}

LayoutFile read(const std::string& rock_keys) {
    return read_layout_text(layout_with(rock_keys), (kMeshes / "layout.toml").string());
}

/// The rock of a layout that holds one, as the volume it is.
const Solid& solid_of(const LayoutFile& file) {
    return std::get<RockMesh>(file.layout.rocks.at(0).shape).solid();
}

std::string refusal(const std::string& rock_keys) {
    try {
        read(rock_keys);
    } catch (const InputError& error) {
        return error.what();
    }
    return {};
}

bool says(const std::string& message, const std::string& part) {
    INFO(message);
    return message.find(part) != std::string::npos;
}

std::string warnings_of(const LayoutFile& file) {
    std::string all;
    for (const auto& d : file.warnings) all += render(d);
    return all;
}

}  // namespace

TEST_CASE("an OBJ of quads becomes a closed solid that stands with its base's middle at `at`") {
    const LayoutFile file = read("file = \"cube.obj\"\nat = \"50 30 4 cm\"");
    const Solid& cube = solid_of(file);
    CHECK(cube.vertices_m().size() == 8);
    CHECK(cube.triangles().size() == 12);
    CHECK(cube.bounds().min.isApprox(Vec3(0.4, 0.2, 0.04), 1e-7));
    CHECK(cube.bounds().max.isApprox(Vec3(0.6, 0.4, 0.24), 1e-7));
    CHECK(volume_m3(cube) == Approx(0.008).epsilon(1e-6));
    CHECK(warnings_of(file).find("mesh") == std::string::npos);
}

TEST_CASE("an STL of text, in millimetres, is scaled to metres") {
    const LayoutFile file = read("file = \"wedge.stl\"\nat = \"50 30 0 cm\"\nscale = 0.001");
    const Solid& wedge = solid_of(file);
    CHECK(wedge.vertices_m().size() == 4);
    CHECK(wedge.bounds().max.isApprox(Vec3(0.55, 0.35, 0.05), 1e-7));
    CHECK(volume_m3(wedge) == Approx(0.1 * 0.1 * 0.05 / 6.0).epsilon(1e-6));
}

TEST_CASE("a binary STL gives the same solid as its text, whatever its header says") {
    const auto text = solid_of(read("file = \"wedge.stl\"\nat = \"50 30 0 cm\"\nscale = 0.001"));
    const fs::path path =
        fs::temp_directory_path() / ("bedshade_wedge_" + std::to_string(getpid()) + ".stl");
    // "solid" in the header of a binary file is a trap that exporters lay.
    std::string bytes = "solid wedge";
    bytes.resize(80, ' ');
    const auto put = [&](const auto& value) {
        bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
    };
    put(static_cast<std::uint32_t>(text.triangles().size()));
    for (const auto& t : text.triangles()) {
        for (int k = 0; k < 3; ++k) put(0.0F);
        for (const int v : t)
            for (int axis = 0; axis < 3; ++axis)
                put(static_cast<float>(text.vertices_m()[static_cast<std::size_t>(v)][axis]));
        put(std::uint16_t{0xFFFF});
    }
    std::ofstream(path, std::ios::binary) << bytes;
    const LayoutFile file = read(fmt::format("file = \"{}\"\nat = \"50 30 0 cm\"", path.string()));
    CHECK(solid_of(file).triangles().size() == 4);
    CHECK(solid_of(file).bounds().max.isApprox(text.bounds().max, 1e-6));
    CHECK(volume_m3(solid_of(file)) == Approx(volume_m3(text)).epsilon(1e-5));
    fs::remove(path);
}

TEST_CASE("fit scales evenly to the box, and turn rotates about the vertical") {
    const LayoutFile truncate =
        read("file = \"wedge.stl\"\nat = \"50 30 0 cm\"\nfit = \"20 30 20 cm\"\nturn = \"90 deg\"");
    const Solid& wedge = solid_of(truncate);
    const Vec3 size = wedge.bounds().max - wedge.bounds().min;
    CHECK(size.isApprox(Vec3(0.2, 0.2, 0.1), 1e-6));
    // The upright edge stood at the left front; a quarter turn counter-clockwise brings it to the
    // right front.
    CHECK(wedge.top_m(0.599, 0.201).value() > 0.09);
    CHECK(wedge.top_m(0.401, 0.201).value() < 0.01);
    const LayoutFile both =
        read("file = \"wedge.stl\"\nat = \"50 30 0 cm\"\nfit = \"20 30 20 cm\"\nscale = 2.0");
    CHECK(says(warnings_of(both), "scale of rock \"scan\" has no effect"));
}

TEST_CASE("open or faulty meshes are read with a warning") {
    const LayoutFile open = read("file = \"open_below.obj\"\nat = \"50 30 0 cm\"");
    CHECK(says(warnings_of(open),
               "layout.toml:16:8: warning: the mesh of rock \"scan\" is not closed: 4 edges with "
               "one triangle only"));
    CHECK(inside(open.layout.rocks[0], Vec3(0.5, 0.3, 0.1)));
    CHECK_FALSE(inside(open.layout.rocks[0], Vec3(0.5, 0.3, 0.21)));
    CHECK(top_at(open.layout.rocks[0], 0.5, 0.3).value() == Approx(0.2));

    const LayoutFile ill = read("file = \"ill_made.obj\"\nat = \"50 30 0 cm\"");
    CHECK(solid_of(ill).triangles().size() == 5);  // the speck is dropped
    CHECK(says(warnings_of(ill), "2 edges with one triangle only"));
    CHECK(says(warnings_of(ill), "1 edge shared by more than two triangles"));
    CHECK(says(warnings_of(ill), "2 edges where two triangles face opposite ways"));
}

TEST_CASE("a coral on a mesh gets its top, and one inside it is refused") {
    const std::string rock = "file = \"cube.obj\"\nat = \"50 30 0 cm\"\n";
    const std::string colony =
        "[[colony]]\nname = \"a\"\ntaxon = \"fungia\"\ndiameter = \"4 cm\"\n";
    const LayoutFile on = read(rock + colony + "on = \"scan\"\nposition = \"45 25 cm\"");
    CHECK(on.layout.colonies[0].position_m.isApprox(Vec3(0.45, 0.25, 0.2), 1e-7));
    CHECK(says(refusal(rock + colony + "on = \"scan\"\nposition = \"80 25 cm\""),
               "is not above rock \"scan\""));
    CHECK(says(refusal(rock + colony + "position = \"45 25 10 cm\""),
               "the base of colony \"a\" is inside rock \"scan\""));
    CHECK(says(refusal(rock + "[[pump]]\nname = \"p\"\nposition = \"45 25 10 cm\"\n"
                              "toward = \"0 0 10 cm\"\nflow = \"1000 L/h\""),
               "position of pump \"p\" is inside rock \"scan\""));
}

TEST_CASE("a layout with a mesh reads back to the same rock without the file") {
    for (const char* keys : {"file = \"cube.obj\"\nat = \"50 30 0 cm\"\nturn = \"33 deg\"",
                             "file = \"ill_made.obj\"\nat = \"50 30 0 cm\"\nscale = 1.7",
                             "file = \"wedge.stl\"\nat = \"50 30 0 cm\"\nfit = \"7 7 7 cm\""}) {
        const LayoutFile first = read(keys);
        LayoutOptions options;
        options.traits_text = first.traits_text;
        const LayoutFile second = read_layout_text(first.text, "nowhere/run.toml", options);
        CHECK(first.text.find("file") == std::string::npos);
        CHECK(second.text == first.text);
        CHECK(solid_of(second).vertices_m() == solid_of(first).vertices_m());
        CHECK(solid_of(second).triangles() == solid_of(first).triangles());
        CHECK(second.warnings.size() == first.warnings.size());
    }
}

TEST_CASE("the layout stored in a run reads back with a long mesh") {
    const LayoutFile first = read_layout(BEDSHADE_SOURCE_DIR "/scenarios/arch.toml");
    LayoutOptions options;
    options.traits_text = first.traits_text;
    REQUIRE(first.text.size() > 10000);
    CHECK(read_layout_text(first.text, "nowhere/run.toml", options).text == first.text);
}

TEST_CASE("a mesh that does not fit into the tank is refused with the likely cause") {
    const std::string message = refusal("file = \"wedge.stl\"\nat = \"50 30 0 cm\"");
    CHECK(says(message, "layout.toml:16:8: error: the mesh of rock \"scan\" reaches from -4950"));
    CHECK(says(message, "give scale = 0.001"));
    CHECK(says(refusal("file = \"wedge.ply\"\nat = \"50 30 0 cm\""),
               "ends in neither .obj nor .stl"));
    CHECK(says(refusal("at = \"50 30 0 cm\""), "file of rock \"scan\""));
}

TEST_CASE("a mesh written into the layout is checked like a file") {
    const auto refused = [](const std::string& mesh) {
        return refusal("at = \"50 30 0 cm\"\nmesh = { " + mesh + " }");
    };
    const std::string corners = "vertices = \"0 0 0  0.1 0 0  0 0.1 0  0 0 0.1\"";
    CHECK(refused(corners + ", triangles = \"0 2 1  0 1 3  0 3 2  1 2 3\"").empty());
    CHECK(says(refused(corners + ", triangles = \"0 2 1  0 1 4\""), "its 4 vertices"));
    CHECK(says(refused(corners + ", triangles = \"0 0 1\""), "its 4 vertices"));
    CHECK(says(refused(corners + ", triangles = \"0 2\""), "not a multiple of three"));
    CHECK(says(refused(corners + ", triangles = \"0 2 1.5\""), "has `1.5`"));
    CHECK(says(refused("vertices = \"0 0 inf 1 0 0 0 1 0\", triangles = \"0 2 1\""), "positions"));
    CHECK(says(refused(corners), "triangles"));
}
