#include "sim/input/mesh/mesh_import.h"

#include <assimp/BaseImporter.h>
#include <assimp/IOSystem.hpp>
#include <assimp/Importer.hpp>
#include <assimp/config.h>
#include <assimp/importerdesc.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <fmt/format.h>
#include <string_view>

namespace bedshade {
namespace {

/// A mesh file is self-contained: the importer gets no other files.
class NoOtherFiles : public Assimp::IOSystem {
  public:
    bool Exists(const char* /*file*/) const override { return false; }
    char getOsSeparator() const override { return '/'; }
    Assimp::IOStream* Open(const char* /*file*/, const char* /*mode*/) override { return nullptr; }
    void Close(Assimp::IOStream* /*stream*/) override {}
};

/// Takes every format but OBJ and STL from the importer.
void keep_mesh_formats(Assimp::Importer& importer) {
    for (std::size_t i = importer.GetImporterCount(); i-- > 0;) {
        const aiImporterDesc* known = importer.GetImporterInfo(i);
        const std::string_view endings = known ? known->mFileExtensions : "";
        if (endings == "obj" || endings == "stl") continue;
        Assimp::BaseImporter* other = importer.GetImporter(i);
        importer.UnregisterLoader(other);
        delete other;  // it is the caller's from here on
    }
}

void set_up(Assimp::Importer& importer) {
    keep_mesh_formats(importer);
    importer.SetIOHandler(new NoOtherFiles);  // the importer's own from here on
    // Corners with normals of their own would not join.
    importer.SetPropertyInteger(AI_CONFIG_PP_RVC_FLAGS,
                                aiComponent_NORMALS | aiComponent_TEXCOORDS | aiComponent_COLORS |
                                    aiComponent_MATERIALS | aiComponent_TANGENTS_AND_BITANGENTS);
}

bool has_three_corners(const std::array<int, 3>& t) {
    return t[0] != t[1] && t[1] != t[2] && t[2] != t[0];
}

/// Numbers vertices as the triangles come to them, and leaves out what no triangle uses.
MeshShape renumbered(const MeshShape& mesh) {
    MeshShape out;
    std::vector<int> number(mesh.vertices.size(), -1);
    for (std::array<int, 3> triangle : mesh.triangles) {
        for (int& corner : triangle) {
            int& given = number[static_cast<std::size_t>(corner)];
            if (given < 0) {
                given = static_cast<int>(out.vertices.size());
                out.vertices.push_back(mesh.vertices[static_cast<std::size_t>(corner)]);
            }
            corner = given;
        }
        out.triangles.push_back(triangle);
    }
    return out;
}

void append(const aiMesh& part, MeshShape& mesh) {
    const int before = static_cast<int>(mesh.vertices.size());
    for (unsigned v = 0; v < part.mNumVertices; ++v)
        mesh.vertices.emplace_back(part.mVertices[v].x, part.mVertices[v].y, part.mVertices[v].z);
    for (unsigned f = 0; f < part.mNumFaces; ++f) {
        const aiFace& face = part.mFaces[f];
        if (face.mNumIndices != 3) continue;
        std::array<int, 3> triangle;
        for (unsigned k = 0; k < 3; ++k) triangle[k] = before + static_cast<int>(face.mIndices[k]);
        if (has_three_corners(triangle)) mesh.triangles.push_back(triangle);
    }
}

}  // namespace

MeshShape import_mesh(const CleanMesh& clean) {
    Assimp::Importer importer;
    set_up(importer);
    const aiScene* scene = importer.ReadFileFromMemory(
        clean.bytes.data(), clean.bytes.size(),
        aiProcess_RemoveComponent | aiProcess_Triangulate | aiProcess_JoinIdenticalVertices,
        clean.format);
    if (!scene) throw MeshFault(fmt::format("cannot be read: {}", importer.GetErrorString()));
    MeshShape mesh;
    for (unsigned m = 0; m < scene->mNumMeshes; ++m) append(*scene->mMeshes[m], mesh);
    if (mesh.triangles.empty()) throw MeshFault("has no triangle with three distinct corners");
    return renumbered(mesh);
}

}  // namespace bedshade
