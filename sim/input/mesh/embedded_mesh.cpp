#include "sim/input/mesh/embedded_mesh.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/text.h"

namespace bedshade {
namespace {

/// The numbers of a text, in threes. Throws MeshFault.
template <class Number>
std::vector<std::array<Number, 3>> triples(std::string_view text, std::size_t most) {
    std::vector<std::array<Number, 3>> out;
    std::size_t count = 0;
    for (Lines lines(text); lines.next();)
        for (auto word = lines.word(); !word.empty(); word = lines.word(), ++count) {
            if (count % 3 == 0) out.emplace_back();
            if (out.size() > most) throw MeshFault(fmt::format("has more than {} of them", most));
            Number& number = out.back()[count % 3];
            const auto [end, failure] =
                std::from_chars(word.data(), word.data() + word.size(), number);
            if (failure != std::errc() || end != word.data() + word.size())
                throw MeshFault(fmt::format("has `{}`, which is not allowed here",
                                            escape_control(word.substr(0, 40))));
        }
    if (out.empty() || count % 3 != 0)
        throw MeshFault(fmt::format("has {} numbers, which is not a multiple of three", count));
    return out;
}

template <class Number>
std::vector<std::array<Number, 3>> triples_under(TableReader& in, const char* key,
                                                 std::size_t most) {
    std::string text;
    if (!in.long_text(key, text, Need::required)) return {};
    try {
        return triples<Number>(text, most);
    } catch (const MeshFault& fault) {
        in.error(key, fmt::format("{} {}", in.label(key), fault.what()));
        return {};
    }
}

bool is_place(const std::array<float, 3>& v) {
    return std::all_of(v.begin(), v.end(),
                       [](float x) { return std::abs(x) <= kFarthestCoordinate; });
}

bool is_triangle(const std::array<int, 3>& t, std::size_t vertices) {
    const bool known = std::all_of(t.begin(), t.end(), [&](int corner) {
        return corner >= 0 && static_cast<std::size_t>(corner) < vertices;
    });
    return known && t[0] != t[1] && t[1] != t[2] && t[2] != t[0];
}

}  // namespace

std::optional<MeshShape> read_embedded_mesh(TableReader& in, std::size_t most_triangles) {
    auto table = in.child("mesh");
    if (!table) return std::nullopt;
    MeshShape mesh;
    const auto places = triples_under<float>(*table, "vertices", 3 * most_triangles);
    mesh.triangles = triples_under<int>(*table, "triangles", most_triangles);
    table->finish();
    if (places.empty() || mesh.triangles.empty()) return std::nullopt;
    for (const auto& v : places) mesh.vertices.emplace_back(v[0], v[1], v[2]);
    if (std::all_of(places.begin(), places.end(), is_place) &&
        std::all_of(mesh.triangles.begin(), mesh.triangles.end(),
                    [&](const auto& t) { return is_triangle(t, places.size()); }))
        return mesh;
    in.error("mesh", fmt::format("{} has invalid positions, or triangles whose three corners are "
                                 "not three of its {} vertices, counted from 0",
                                 in.label("mesh"), places.size()));
    return std::nullopt;
}

toml::table mesh_table(const MeshShape& mesh) {
    std::string vertices, triangles;
    for (const auto& v : mesh.vertices)
        fmt::format_to(std::back_inserter(vertices), "{}{} {} {}", vertices.empty() ? "" : "  ",
                       v.x(), v.y(), v.z());
    for (const auto& [a, b, c] : mesh.triangles)
        fmt::format_to(std::back_inserter(triangles), "{}{} {} {}", triangles.empty() ? "" : "  ",
                       a, b, c);
    return toml::table{{"vertices", std::move(vertices)}, {"triangles", std::move(triangles)}};
}

}  // namespace bedshade
