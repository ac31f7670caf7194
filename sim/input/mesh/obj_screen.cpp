#include <algorithm>
#include <charconv>
#include <cstdint>
#include <fmt/format.h>
#include <iterator>
#include <vector>

#include "sim/base/text.h"
#include "sim/input/mesh/mesh_screen.h"

namespace bedshade {
namespace {

class ObjScreen {
  public:
    explicit ObjScreen(std::size_t most_triangles) : most_triangles_(most_triangles) {}

    CleanMesh screen(std::string_view text) {
        for (Lines lines(text); lines.next();) {
            const std::string_view statement = lines.word();
            if (statement == "v") take_vertex(lines);
            if (statement == "f") take_face(lines);
        }
        if (triangles_ == 0)
            throw MeshFault("has no faces",
                            "an OBJ file lists its faces in lines that begin with f");
        if (highest_ > vertices_)
            throw MeshFault(fmt::format("line {} uses vertex {}, but the file has {}",
                                        line_of_highest_, highest_, vertices_));
        return {clean_vertices_ + clean_faces_, "obj", triangles_};
    }

  private:
    void take_vertex(Lines& lines) {
        clean_vertices_ += 'v';
        for (int axis = 0; axis < 3; ++axis)
            fmt::format_to(std::back_inserter(clean_vertices_), " {}",
                           coordinate(lines.word(), lines.number()));
        clean_vertices_ += '\n';
        ++vertices_;
    }

    void take_face(Lines& lines) {
        clean_faces_ += 'f';
        std::size_t corners = 0;
        for (auto word = lines.word(); !word.empty(); word = lines.word()) {
            if (++corners > kMostCornersOfAFace)
                throw MeshFault(fmt::format("the face in line {} has more than {} corners",
                                            lines.number(), kMostCornersOfAFace));
            fmt::format_to(std::back_inserter(clean_faces_), " {}", corner(word, lines.number()));
        }
        clean_faces_ += '\n';
        if (corners < 3)
            throw MeshFault(fmt::format("the face in line {} has {} corners, but needs three",
                                        lines.number(), corners));
        triangles_ += corners - 2;
        if (triangles_ > most_triangles_)
            throw MeshFault(fmt::format("has more than {} triangles", most_triangles_));
    }

    /// The vertex of "7", "7/3", "7//2" or "7/3/2"; numbers below zero count back from the last.
    std::int64_t corner(std::string_view word, std::size_t line) {
        const std::string_view digits = word.substr(0, word.find('/'));
        std::int64_t number = 0;
        const auto [end, failure] =
            std::from_chars(digits.data(), digits.data() + digits.size(), number);
        const std::int64_t vertex = number < 0 ? vertices_ + 1 + number : number;
        if (failure != std::errc() || end != digits.data() + digits.size() || vertex < 1)
            throw MeshFault(fmt::format("`{}` in line {} is not a vertex",
                                        escape_control(word.substr(0, 40)), line));
        if (vertex > highest_) {
            highest_ = vertex;
            line_of_highest_ = line;
        }
        return vertex;
    }

    std::string clean_vertices_, clean_faces_;
    std::int64_t vertices_ = 0, highest_ = 0;
    std::size_t line_of_highest_ = 0, triangles_ = 0, most_triangles_ = 0;
};

}  // namespace

CleanMesh screen_obj(std::string_view text, std::size_t most_triangles) {
    return ObjScreen(most_triangles).screen(text);
}

}  // namespace bedshade
