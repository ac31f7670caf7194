#include "sim/input/mesh/rock_mesh_reader.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fmt/format.h>
#include <limits>
#include <utility>
#include <vector>

#include "model/base/mesh_edges.h"

#include "sim/base/text.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/resolve.h"
#include "sim/input/layout/sections.h"
#include "sim/input/mesh/embedded_mesh.h"
#include "sim/input/text/text_file.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

constexpr Range kMeshSide{0.1, 2000.0};
/// What the slowest question about a point may cost: triangles that lie above one point.
constexpr std::size_t kMostOverOnePoint = 5000;

struct Placing {
    Vec3 at_m = Vec3::Zero();
    double scale = 1.0, turn_rad = 0.0;
    std::optional<Vec3> fit_m;
};

std::optional<Placing> read_placing(TableReader& in, const LayoutBuilder& builder) {
    Placing placing;
    bool good = in.point("at", placing.at_m, Need::required) &&
                rock_in_tank(in, "at", placing.at_m, builder);
    good &= in.number("scale", placing.scale, {1e-6, 1e6}) || !in.has("scale");
    good &= in.quantity("turn", placing.turn_rad, kAngle, {-360.0, 360.0}) || !in.has("turn");
    std::vector<double> fit_m;
    if (in.lengths("fit", fit_m, 3, kMeshSide))
        placing.fit_m = Vec3(fit_m[0], fit_m[1], fit_m[2]);
    else if (in.has("fit"))
        good = false;
    if (in.has("scale") && in.has("fit"))
        in.warn("scale", fmt::format("{} has no effect", in.label("scale")),
                "fit gives the rock its size");
    return good ? std::optional(placing) : std::nullopt;
}

std::string lower_case_ending(const fs::path& path) {
    std::string ending = path.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending;
}

MeshShape import_file(const fs::path& path, std::string_view bytes, std::size_t most_triangles) {
    const bool is_obj = lower_case_ending(path) == ".obj";
    return import_mesh(is_obj ? screen_obj(bytes, most_triangles)
                              : screen_stl(bytes, most_triangles));
}

std::optional<MeshShape> read_file(TableReader& in, MeshStore& store) {
    std::string written;
    if (!in.text("file", written, Need::required)) return std::nullopt;
    const fs::path path = path_beside(*in.node("file"), written);
    if (lower_case_ending(path) != ".obj" && lower_case_ending(path) != ".stl") {
        in.error("file",
                 fmt::format("{} is `{}`, which ends in neither .obj nor .stl", in.label("file"),
                             escape_control(written)),
                 "meshes are read from OBJ and STL files");
        return std::nullopt;
    }
    const auto bytes = read_bytes(path, store.bytes_left, in.place("file"), in.diagnostics());
    if (!bytes) return std::nullopt;
    store.bytes_left -= bytes->size();
    try {
        return import_file(path, *bytes, store.triangles_left);
    } catch (const MeshFault& fault) {
        in.error("file", fmt::format("`{}` {}", escape_control(path.string()), fault.what()),
                 fault.help);
        return std::nullopt;
    }
}

std::optional<MeshShape> read_mesh(TableReader& in, MeshStore& store) {
    if (!in.has("mesh")) return read_file(in, store);
    if (in.has("file"))
        in.error("file", fmt::format("{} gives its mesh more than once", in.name()),
                 "give file or mesh");
    in.node("file");
    return read_embedded_mesh(in, store.triangles_left);
}

const char* mesh_key(const TableReader& in) { return in.has("mesh") ? "mesh" : "file"; }

std::string edges(int count) { return count == 1 ? "1 edge" : fmt::format("{} edges", count); }

void warn_of_edges(TableReader& in, const std::vector<std::array<int, 3>>& triangles) {
    const EdgeFaults faults = edge_faults(triangles);
    const char* key = mesh_key(in);
    if (faults.open > 0)
        in.warn(key,
                fmt::format("the mesh of {} is not closed: {} with one triangle only", in.name(),
                            edges(faults.open)),
                "a point counts as inside when an odd number of triangles lie above it, so a mesh "
                "that is open only below is treated as reaching down; close any other");
    if (faults.crowded > 0)
        in.warn(key, fmt::format("the mesh of {} has {} shared by more than two triangles",
                                 in.name(), edges(faults.crowded)));
    if (faults.turned > 0)
        in.warn(key,
                fmt::format("the mesh of {} has {} where two triangles face opposite ways",
                            in.name(), edges(faults.turned)),
                "they were turned to face outward");
}

std::vector<Vec3> placed(const MeshShape& mesh, const Placing& placing) {
    Box box;
    for (const auto& v : mesh.vertices) box.extend(v.cast<double>());
    double scale = placing.scale;
    if (placing.fit_m) {
        scale = std::numeric_limits<double>::infinity();
        for (int axis = 0; axis < 3; ++axis)
            scale = std::min(scale, (*placing.fit_m)[axis] / (box.max[axis] - box.min[axis]));
    }
    Vec3 base = 0.5 * (box.min + box.max);
    base.z() = box.min.z();
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(placing.turn_rad, Vec3::UnitZ()).toRotationMatrix();
    std::vector<Vec3> out_m;
    out_m.reserve(mesh.vertices.size());
    for (const auto& v : mesh.vertices)
        out_m.push_back(placing.at_m + turn * (scale * (v.cast<double>() - base)));
    return out_m;
}

bool reaches_out(TableReader& in, const Box& bounds, const LayoutBuilder& builder) {
    if (!builder.has_tank()) return false;
    const Tank& tank = builder.layout.tank;
    const Vec3 touch = Vec3::Constant(kTouch_m);
    const Box room{Vec3(0.0, 0.0, -builder.layout.substrate.depth_m) - touch,
                   Vec3(tank.length_m, tank.width_m, tank.water_depth_m) + touch};
    if (room.contains(bounds.min) && room.contains(bounds.max)) return false;
    in.error(mesh_key(in),
             fmt::format("the mesh of {} reaches from {} to {}, out of the tank's water", in.name(),
                         describe_place(bounds.min), describe_place(bounds.max)),
             "its numbers are metres times scale: for a file in millimetres give scale = 0.001, or "
             "give the size with fit");
    return true;
}

}  // namespace

std::optional<RockMesh> read_rock_mesh(TableReader& in, const std::string& name,
                                       LayoutBuilder& builder) {
    const auto placing = read_placing(in, builder);
    auto mesh = read_mesh(in, builder.meshes);
    if (!mesh) return std::nullopt;
    builder.meshes.triangles_left -= mesh->triangles.size();
    warn_of_edges(in, mesh->triangles);
    if (!placing) return std::nullopt;
    std::vector<Vec3> vertices_m = placed(*mesh, *placing);
    auto triangles = mesh->triangles;
    face_outward(vertices_m, triangles);
    RockMesh rock(std::move(vertices_m), std::move(triangles));
    if (reaches_out(in, rock.solid().bounds(), builder)) return std::nullopt;
    if (rock.solid().fullest_column() > kMostOverOnePoint) {
        in.error(mesh_key(in),
                 fmt::format("more than {} triangles of the mesh of {} lie above one point",
                             kMostOverOnePoint, in.name()));
        return std::nullopt;
    }
    builder.meshes.by_rock.emplace(name, std::move(*mesh));
    return rock;
}

}  // namespace bedshade
