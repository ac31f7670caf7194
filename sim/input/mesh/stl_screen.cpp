#include <array>
#include <cstdint>
#include <cstring>
#include <fmt/format.h>

#include "sim/input/mesh/mesh_screen.h"

namespace bedshade {
namespace {

// Binary STL: 80 bytes of anything, the count of facets, and for each a normal, three corners (all
// little-endian floats) and two bytes of anything.
constexpr std::size_t kHeader = 80, kHead = 84, kFacet = 50, kNormal = 12, kCorners = 36;

using Corners = std::array<float, 9>;

/// Writes facets as binary STL, with nothing in it but their corners.
class StlWriter {
  public:
    explicit StlWriter(std::size_t most_triangles) : most_(most_triangles), bytes_(kHead, '\0') {}

    void add(const Corners& corners) {
        if (++count_ > most_) throw MeshFault(fmt::format("has more than {} triangles", most_));
        bytes_.append(kNormal, '\0');
        bytes_.append(reinterpret_cast<const char*>(corners.data()), kCorners);
        bytes_.append(kFacet - kNormal - kCorners, '\0');
    }

    CleanMesh mesh() {
        if (count_ == 0) throw MeshFault("has no triangles");
        const auto count = static_cast<std::uint32_t>(count_);
        std::memcpy(bytes_.data() + kHeader, &count, sizeof count);
        return {std::move(bytes_), "stl", count_};
    }

  private:
    std::size_t most_, count_ = 0;
    std::string bytes_;
};

std::uint32_t count_in(std::string_view bytes) {
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + kHeader, sizeof count);
    return count;
}

std::size_t size_for(std::size_t facets) { return kHead + kFacet * facets; }

/// Some programs write "solid" into the header of binary files, so the size has the first word.
bool is_text(std::string_view bytes) {
    if (bytes.size() >= kHead && bytes.size() == size_for(count_in(bytes))) return false;
    Lines lines(bytes.substr(0, kHeader));
    return lines.next() && lines.word() == "solid";
}

CleanMesh screen_binary(std::string_view bytes, std::size_t most_triangles) {
    if (bytes.size() < kHead) throw MeshFault("is too short to be an STL file");
    const std::size_t count = count_in(bytes);
    if (bytes.size() < size_for(count))
        throw MeshFault(fmt::format("declares {} triangles, which take {} bytes, but has {} bytes",
                                    count, size_for(count), bytes.size()),
                        "it may be truncated, or not be an STL file");
    StlWriter out(most_triangles);
    for (std::size_t facet = 0; facet < count; ++facet) {
        Corners corners;
        std::memcpy(corners.data(), bytes.data() + size_for(facet) + kNormal, kCorners);
        for (float& value : corners) {
            // Written so that NaN is refused as well.
            if (!(value >= -kFarthestCoordinate && value <= kFarthestCoordinate))
                throw MeshFault(
                    fmt::format("triangle {} has a corner at {}, which is not a valid position",
                                facet + 1, value));
            value += 0.0F;  // no -0, which would not join with 0
        }
        out.add(corners);
    }
    return out.mesh();
}

CleanMesh screen_text(std::string_view text, std::size_t most_triangles) {
    StlWriter out(most_triangles);
    Corners corners;
    std::size_t filled = 0;
    bool ended = false;
    for (Lines lines(text); lines.next();) {
        const std::string_view statement = lines.word();
        if (statement == "vertex") {
            if (filled == corners.size())
                throw MeshFault(fmt::format("the facet in line {} has more than three corners",
                                            lines.number()));
            for (int axis = 0; axis < 3; ++axis)
                corners[filled++] = coordinate(lines.word(), lines.number());
        } else if (statement == "endfacet") {
            if (filled != corners.size())
                throw MeshFault(
                    fmt::format("the facet that ends in line {} has {} corners, but needs three",
                                lines.number(), filled / 3));
            out.add(corners);
            filled = 0;
        }
        ended |= statement == "endsolid";
    }
    if (!ended || filled > 0) throw MeshFault("ends before its `endsolid`", "it may be truncated");
    return out.mesh();
}

}  // namespace

CleanMesh screen_stl(std::string_view bytes, std::size_t most_triangles) {
    return is_text(bytes) ? screen_text(bytes, most_triangles)
                          : screen_binary(bytes, most_triangles);
}

}  // namespace bedshade
