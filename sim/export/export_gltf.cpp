#include "sim/export/export_gltf.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "model/light/rock_mesh.h"

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/trajectory/run_layout.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

// Numbers of the specification.
constexpr int kFloat = 5126, kUnsignedInt = 5125, kUnsignedByte = 5121;
constexpr int kVertices = 34962, kIndices = 34963;
constexpr std::uint32_t kMagic = 0x46546C67, kJsonChunk = 0x4E4F534A, kBinaryChunk = 0x004E4942;

using Colour = std::array<double, 3>;  // linear
constexpr Colour kTissue = {0.456, 0.063, 0.027}, kPale = {0.896, 0.768, 0.651};
constexpr Colour kSkeleton = {0.485, 0.474, 0.418}, kRock = {0.254, 0.220, 0.188};

/// The document and its one buffer while they grow.
class Glb {
  public:
    Glb() {
        document_ = {{"asset", {{"version", "2.0"}, {"generator", "bedshade"}}}, {"scene", 0}};
        // A quarter turn about x brings z up to y up.
        const double half = std::sqrt(0.5);
        document_["nodes"] = {{{"name", "tank"}, {"rotation", {-half, 0.0, 0.0, half}}}};
        document_["scenes"] = {{{"nodes", {0}}}};
    }

    int add_material(const std::string& name, const Colour& colour) {
        document_["materials"].push_back(
            {{"name", name},
             {"doubleSided", true},
             {"pbrMetallicRoughness",
              {{"baseColorFactor", {colour[0], colour[1], colour[2], 1.0}},
               {"metallicFactor", 0.0},
               {"roughnessFactor", 0.9}}}});
        return last("materials");
    }

    /// A mesh on a node of its own below the tank; `colours`, if there are any, four bytes a
    /// vertex.
    void add_node(const std::string& name, const TriangleMesh& mesh, int material,
                  const ordered_json& extras, const std::vector<std::uint8_t>& colours = {}) {
        ordered_json attributes = {{"POSITION", add_positions(mesh)}};
        if (!colours.empty())
            attributes["COLOR_0"] = add_accessor(colours.data(), colours.size(), kVertices,
                                                 {{"componentType", kUnsignedByte},
                                                  {"normalized", true},
                                                  {"count", mesh.vertices_m.size()},
                                                  {"type", "VEC4"}});
        document_["meshes"].push_back({{"name", escape_control(name)},
                                       {"primitives",
                                        {{{"attributes", attributes},
                                          {"indices", add_indices(mesh)},
                                          {"material", material}}}}});
        ordered_json node = {{"name", escape_control(name)}, {"mesh", last("meshes")}};
        if (!extras.empty()) node["extras"] = extras;
        document_["nodes"].push_back(node);
        document_["nodes"][0]["children"].push_back(last("nodes"));
    }

    std::string finish() {
        document_["buffers"] = {{{"byteLength", buffer_.size()}}};
        std::string text = json_line(document_);
        text.resize((text.size() + 3) / 4 * 4, ' ');
        std::string glb;
        for (const std::size_t word :
             {std::size_t{kMagic}, std::size_t{2}, 28 + text.size() + buffer_.size(), text.size(),
              std::size_t{kJsonChunk}})
            add_word(word, glb);
        glb += text;
        add_word(buffer_.size(), glb);
        add_word(kBinaryChunk, glb);
        return glb + buffer_;
    }

  private:
    static void add_word(std::size_t value, std::string& to) {
        const auto word = static_cast<std::uint32_t>(value);
        to.append(reinterpret_cast<const char*>(&word), sizeof word);
    }
    int last(const char* list) const { return static_cast<int>(document_[list].size()) - 1; }

    int add_accessor(const void* bytes, std::size_t count, int target, ordered_json accessor) {
        document_["bufferViews"].push_back({{"buffer", 0},
                                            {"byteOffset", buffer_.size()},
                                            {"byteLength", count},
                                            {"target", target}});
        buffer_.append(static_cast<const char*>(bytes), count);
        buffer_.resize((buffer_.size() + 3) / 4 * 4, '\0');
        accessor["bufferView"] = last("bufferViews");
        document_["accessors"].push_back(std::move(accessor));
        return last("accessors");
    }

    int add_positions(const TriangleMesh& mesh) {
        Eigen::Vector3f low = mesh.vertices_m.front(), high = low;
        for (const auto& v : mesh.vertices_m) {
            low = low.cwiseMin(v);
            high = high.cwiseMax(v);
        }
        return add_accessor(mesh.vertices_m.data(), 12 * mesh.vertices_m.size(), kVertices,
                            {{"componentType", kFloat},
                             {"count", mesh.vertices_m.size()},
                             {"type", "VEC3"},
                             {"min", {low.x(), low.y(), low.z()}},
                             {"max", {high.x(), high.y(), high.z()}}});
    }

    int add_indices(const TriangleMesh& mesh) {
        return add_accessor(mesh.triangles.data(), 12 * mesh.triangles.size(), kIndices,
                            {{"componentType", kUnsignedInt},
                             {"count", 3 * mesh.triangles.size()},
                             {"type", "SCALAR"}});
    }

    ordered_json document_;
    std::string buffer_;
};

static_assert(sizeof(Eigen::Vector3f) == 12, "vertices are written as they lie");

Colour mixed(const Colour& a, const Colour& b, double share) {
    Colour colour;
    for (std::size_t k = 0; k < 3; ++k) colour[k] = a[k] + share * (b[k] - a[k]);
    return colour;
}

/// Pale as the reserve is spent, and as bare as tissue is lost.
Colour colour_of(const ColonyRecord& record) {
    const auto share = [](double value) {
        return std::isfinite(value) ? std::clamp(value, 0.0, 1.0) : 1.0;
    };
    return mixed(mixed(kTissue, kPale, 0.85 * (1.0 - share(record.reserve))), kSkeleton,
                 1.0 - share(record.live_fraction));
}

ordered_json quantities_of(const ColonyFacts& facts, const ColonyRecord& record) {
    ordered_json extras = {{"taxon", escape_control(facts.taxon)}, {"form", to_string(facts.form)}};
    for (const auto& quantity : kColonyQuantities)
        extras[fmt::format("{} [{}]", quantity.dataset, quantity.units)] = record.*quantity.value;
    return extras;
}

/// Four corners a cell, so that each cell keeps its own colour.
TriangleMesh bed_mesh(const BedGrid& grid) {
    TriangleMesh mesh;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const auto first = static_cast<std::uint32_t>(mesh.vertices_m.size());
            for (const auto& [di, dj] : {std::pair{0, 0}, {1, 0}, {1, 1}, {0, 1}})
                mesh.vertices_m.push_back(
                    Vec3((i + di) * grid.cell_x_m, (j + dj) * grid.cell_y_m, 0.0).cast<float>());
            mesh.triangles.push_back({first, first + 1, first + 2});
            mesh.triangles.push_back({first, first + 2, first + 3});
        }
    return mesh;
}

/// Grey by light, black at none and white at the month's brightest cell.
std::vector<std::uint8_t> bed_colours(const std::vector<double>& ppfd) {
    const double most = std::max(1e-9, *std::max_element(ppfd.begin(), ppfd.end()));
    std::vector<std::uint8_t> bytes;
    for (const double value : ppfd) {
        const double share = std::isfinite(value) ? std::clamp(value / most, 0.0, 1.0) : 0.0;
        const auto grey = static_cast<std::uint8_t>(std::lround(255.0 * share));
        for (int corner = 0; corner < 4; ++corner)
            bytes.insert(bytes.end(), {grey, grey, grey, 255});
    }
    return bytes;
}

void add_bed(const Trajectory& run, int snapshot, Glb& glb) {
    const auto ppfd = run.bed_at(0, snapshot).ppfd_umol_m2_s;
    const int white = glb.add_material("bed", {1.0, 1.0, 1.0});
    glb.add_node("bed", bed_mesh(run.bed_grid()), white,
                 {{"white_is_ppfd_umol_m2_s", *std::max_element(ppfd.begin(), ppfd.end())}},
                 bed_colours(ppfd));
}

void add_colonies(const Trajectory& run, int snapshot, Glb& glb) {
    const auto records = run.colonies_at(0, snapshot);
    for (std::size_t i = 0; i < records.size(); ++i) {
        const ColonyFacts& facts = run.colonies()[i];
        if (!can_be_drawn(records[i])) continue;
        const int material = glb.add_material(escape_control(facts.name), colour_of(records[i]));
        glb.add_node(facts.name, mesh_of(shape_of(facts, records[i])), material,
                     quantities_of(facts, records[i]));
    }
}

}  // namespace

std::string month_glb(const Trajectory& run, const Layout& layout, int month) {
    const int snapshot = snapshot_at_month(run, month);
    Glb glb;
    add_bed(run, snapshot, glb);
    const int rock_material = glb.add_material("rock", kRock);
    for (const Rock& rock : layout.rocks)
        glb.add_node(rock.name, rock_mesh(rock), rock_material, {});
    add_colonies(run, snapshot, glb);
    return glb.finish();
}

}  // namespace bedshade
