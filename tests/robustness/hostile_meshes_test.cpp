// Mesh files made to hurt: each is refused in words and quickly, or read for what it is.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <limits>
#include <unistd.h>
#include <vector>

#include "model/base/random.h"

#include "sim/input/layout/layout_reader.h"

using namespace bedshade;
namespace fs = std::filesystem;

namespace {

constexpr const char* kTetrahedron =
    "v 0 0 0\nv 0.1 0 0\nv 0 0.1 0\nv 0 0 0.1\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n";

class MeshFolder {
  public:
    MeshFolder()
        : path_(fs::temp_directory_path() / fmt::format("bedshade_hostile_meshes_{}", getpid())) {
        fs::remove_all(path_);
        fs::create_directories(path_);
    }
    ~MeshFolder() { fs::remove_all(path_); }
    MeshFolder(const MeshFolder&) = delete;
    MeshFolder& operator=(const MeshFolder&) = delete;

    /// What a layout whose rocks are this file is reported; empty when it is read.
    std::string message_of(const std::string& name, const std::string& bytes, int rocks = 1) const {
        std::ofstream(path_ / name, std::ios::binary) << bytes;
        return message_of_file(name, rocks);
    }
    std::string message_of_file(const std::string& name, int rocks = 1) const {
        std::string text =
            "format = 1\n[season]\nstart = 2027-01-01\n[tank]\nlength = \"120 cm\"\n"
            "width = \"60 cm\"\nwater_depth = \"55 cm\"\n";
        for (int i = 0; i < rocks; ++i)
            text += fmt::format(
                "[[rock]]\nname = \"{}\"\nshape = \"mesh\"\nfile = \"{}\"\n"
                "at = \"60 30 0 cm\"\n",
                i, name);
        try {
            read_layout_text(text, (path_ / "layout.toml").string());
        } catch (const InputError& error) {
            return error.what();
        }
        return {};
    }
    const fs::path& path() const { return path_; }

  private:
    fs::path path_;
};

bool says(const std::string& message, const std::string& part) {
    INFO(message.substr(0, 400));
    return message.find(part) != std::string::npos;
}

std::string binary_stl(std::uint32_t declared_triangles, const std::vector<float>& numbers) {
    std::string bytes(80, '\0');
    bytes.append(reinterpret_cast<const char*>(&declared_triangles), 4);
    for (std::size_t i = 0; i < numbers.size(); i += 9) {
        bytes.append(12, '\0');
        bytes.append(reinterpret_cast<const char*>(numbers.data() + i), 36);
        bytes.append(2, '\0');
    }
    return bytes;
}

std::string many(const std::string& piece, std::size_t times) {
    std::string text;
    text.reserve(piece.size() * times);
    for (std::size_t i = 0; i < times; ++i) text += piece;
    return text;
}

}  // namespace

TEST_CASE("invalid OBJ files are refused with the line") {
    const MeshFolder folder;
    const std::string points = "v 0 0 0\nv 0.1 0 0\nv 0 0.1 0\n";
    CHECK(folder.message_of("a.obj", kTetrahedron).empty());
    CHECK(says(folder.message_of("a.obj", ""), "a.obj` has no faces"));
    CHECK(
        says(folder.message_of("a.obj", std::string("\x89PNG\0\0\xFF\xFE\n", 9)), "has no faces"));
    CHECK(says(folder.message_of("a.obj", "v nan 0 0\n"), "`nan` in line 1 is not a valid number"));
    CHECK(says(folder.message_of("a.obj", "v 0 0 0\nv 0 1e999 0\n"), "`1e999` in line 2"));
    CHECK(says(folder.message_of("a.obj", "v 0 0 -inf\n"), "`-inf` in line 1"));
    CHECK(says(folder.message_of("a.obj", "v 0 0 1e30\n"), "1e30 in line 1 is out of range"));
    CHECK(says(folder.message_of("a.obj", "v 0 0\n"), "line 1 has fewer than three numbers"));
    CHECK(says(folder.message_of("a.obj", points + "f 1 2 9\n"),
               "line 4 uses vertex 9, but the file has 3"));
    CHECK(says(folder.message_of("a.obj", points + "f 1 2 0\n"), "`0` in line 4 is not a vertex"));
    CHECK(
        says(folder.message_of("a.obj", points + "f 1 2 -9\n"), "`-9` in line 4 is not a vertex"));
    CHECK(says(folder.message_of("a.obj", points + "f 1 2 99999999999999999999\n"),
               "is not a vertex"));
    CHECK(says(folder.message_of("a.obj", points + "f 1 2 \x1b[31m\n"), "`\\x1B[31m` in line 4"));
    CHECK(says(folder.message_of("a.obj", points + "f 1 2\n"), "has 2 corners, but needs three"));
    CHECK(says(folder.message_of("a.obj", points + "f 1 1 2\n"),
               "no triangle with three distinct corners"));
    CHECK(says(folder.message_of("a.obj", fmt::format("{}f{}", points, many(" 1", 101))),
               "more than 100 corners"));
    // Messages name the layout's line and key as well.
    CHECK(says(folder.message_of("a.obj", ""), "layout.toml:11:8: error: `"));
}

TEST_CASE("truncated, empty or non-numeric STL files are refused") {
    const MeshFolder folder;
    const std::vector<float> triangle = {0, 0, 0, 0.1F, 0, 0, 0, 0.1F, 0.1F};
    CHECK(folder.message_of("a.stl", binary_stl(1, triangle)).empty());
    CHECK(says(folder.message_of("a.stl", ""), "too short to be an STL file"));
    CHECK(says(folder.message_of("a.stl", binary_stl(0, {})), "has no triangles"));
    CHECK(says(folder.message_of("a.stl", binary_stl(2, triangle)),
               "declares 2 triangles, which take 184 bytes, but has 134 bytes"));
    CHECK(
        says(folder.message_of("a.stl", binary_stl(0xFFFFFFFF, triangle)), "4294967295 triangles"));
    auto bad = triangle;
    bad[4] = std::numeric_limits<float>::quiet_NaN();
    CHECK(says(folder.message_of("a.stl", binary_stl(1, bad)), "triangle 1 has a corner at nan"));
    bad[4] = std::numeric_limits<float>::infinity();
    CHECK(says(folder.message_of("a.stl", binary_stl(1, bad)), "triangle 1 has a corner at inf"));
    const std::string facet =
        "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 0.1 0 0\nvertex 0 0.1 0\nendloop\n"
        "endfacet\n";
    CHECK(folder.message_of("a.stl", "solid x\n" + facet + "endsolid x\n").empty());
    CHECK(says(folder.message_of("a.stl", "solid x\n" + facet), "ends before its `endsolid`"));
    CHECK(says(folder.message_of("a.stl", "solid x\n" + facet.substr(0, 60)), "ends before"));
    CHECK(says(folder.message_of("a.stl", "solid x\nfacet\nvertex 1 2 z\n"), "`z` in line 3"));
    CHECK(says(folder.message_of("a.stl", "solid x\nvertex 0 0 0\nendfacet\nendsolid"),
               "ends in line 3 has 1 corners"));
    CHECK(says(folder.message_of("a.stl", "solid x\n" + many("vertex 0 0 0\n", 4) + "endsolid"),
               "line 5 has more than three corners"));
    CHECK(says(folder.message_of("a.stl", "solid x\nendsolid x\n"), "has no triangles"));
}

TEST_CASE("files that are not allowed as meshes are not opened") {
    const MeshFolder folder;
    CHECK(says(folder.message_of_file("none.obj"), "there is no file `"));
    fs::create_directory(folder.path() / "folder.obj");
    CHECK(says(folder.message_of_file("folder.obj"), "is a folder, not a file"));
    fs::create_symlink("/dev/zero", folder.path() / "endless.stl");
    CHECK(says(folder.message_of_file("endless.stl"), "is not an ordinary file"));
    std::ofstream(folder.path() / "large.stl") << "solid";
    fs::resize_file(folder.path() / "large.stl", std::uintmax_t{129} << 20U);  // sparse
    CHECK(says(folder.message_of_file("large.stl"), "has 129.0 MB, but at most 128.0 MB are read"));
    // Material files are not followed: this one would not even open.
    CHECK(folder.message_of("a.obj", "mtllib /dev/zero\nusemtl x\n" + std::string(kTetrahedron))
              .empty());
}

TEST_CASE("the meshes of a layout have at most a million triangles") {
    const MeshFolder folder;
    std::string text = "v 0 0 0\nv 0.1 0 0\nv 0 0.1 0\n";
    CHECK(says(folder.message_of("a.obj", text + many("f 1 2 3\n", 1000001)),
               "has more than 1000000 triangles"));
    CHECK(
        says(folder.message_of("a.obj", text + many(fmt::format("f{}\n", many(" 1", 100)), 10300)),
             "has more than 1000000 triangles"));
}

TEST_CASE("many rocks with one large mesh are refused by their total size", "[.][long]") {
    const MeshFolder folder;
    std::string text;
    for (int i = 0; i < 200; ++i)
        for (int j = 0; j < 200; ++j)
            text += fmt::format("v {} {} {}\n", 0.001 * i, 0.001 * j, 0.01 * ((i * j) % 7));
    for (int i = 0; i + 1 < 200; ++i)
        for (int j = 1; j < 200; ++j)
            text += fmt::format("f {} {} {} {}\n", 200 * i + j, 200 * i + j + 1, 200 * i + j + 201,
                                200 * i + j + 200);
    const std::string message = folder.message_of("a.obj", text, 200);
    CHECK(says(message, "triangles"));
}

TEST_CASE("too many triangles above one point are refused") {
    const MeshFolder folder;
    std::string text = "v 0 0 0\nv 0.1 0 0\nv 0 0.1 0\n";
    for (int i = 1; i <= 6000; ++i)
        text += fmt::format("v 0 0 {0}\nv 0.1 0 {0}\nv 0 0.1 {0}\nf -3 -2 -1\n", 1e-5 * i);
    CHECK(says(folder.message_of("a.obj", text),
               "more than 5000 triangles of the mesh of rock \"0\" lie above one point"));
}

TEST_CASE("meshes with random changed bytes are read or refused without a crash") {
    const MeshFolder folder;
    const std::string obj = kTetrahedron;
    const std::string stl =
        binary_stl(2, {0, 0, 0, 0.1F, 0, 0, 0, 0.1F, 0, 0, 0, 0, 0.1F, 0, 0, 0, 0, 0.1F});
    const std::string pool = "vf/-+.0123456789eE \n\\#\xFF\x7F\x01";
    RandomStream random(1, 0, Process::bioturbation, 0, 0);
    const auto pick = [&](std::size_t size) {
        return static_cast<std::size_t>(random.uniform() * static_cast<double>(size));
    };
    int refused = 0;
    for (int round = 0; round < 600; ++round) {
        std::string bytes = round % 2 ? obj : stl;
        for (int i = 0; i < 1 + round % 5; ++i) bytes[pick(bytes.size())] = pool[pick(pool.size())];
        if (round % 7 == 0) bytes.resize(pick(bytes.size()));
        refused += !folder.message_of(round % 2 ? "r.obj" : "r.stl", bytes).empty();
    }
    CHECK(refused > 200);
    CHECK(refused < 600);
}
