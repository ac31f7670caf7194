#include "model/growth/surroundings.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kCell_m = 0.08;

int cells_along(double length_m) {
    return std::max(1, static_cast<int>(std::ceil(length_m / kCell_m)));
}

int cell_along(double x_m, int count) {
    return static_cast<int>(std::clamp(std::floor(x_m / kCell_m), 0.0, count - 1.0));
}

}  // namespace

bool boxes_intersect(const Box& a, const Box& b) {
    return (a.min.array() <= b.max.array()).all() && (b.min.array() <= a.max.array()).all();
}

Box grown(const Box& box, double by_m) {
    return {box.min - Vec3::Constant(by_m), box.max + Vec3::Constant(by_m)};
}

Surroundings::Surroundings(const Layout& layout)
    : layout_(layout),
      nx_(cells_along(layout.tank.length_m)),
      ny_(cells_along(layout.tank.width_m)),
      cell_(static_cast<std::size_t>(nx_) * static_cast<std::size_t>(ny_)) {
    rock_.reserve(layout.rocks.size());
    for (const Rock& rock : layout.rocks) rock_.emplace_back(rock);
}

Surroundings::Cells Surroundings::cells_of(const Box& box) const {
    return {cell_along(box.min.x(), nx_), cell_along(box.max.x(), nx_),
            cell_along(box.min.y(), ny_), cell_along(box.max.y(), ny_)};
}

void Surroundings::set_colonies(const Reef& reef) {
    for (auto& cell : cell_) cell.clear();
    body_.assign(reef.colonies.size(), std::nullopt);
    for (std::size_t c = 0; c < reef.colonies.size(); ++c)
        if (reef.colonies[c].present) insert(static_cast<int>(c), reef.colonies[c]);
}

void Surroundings::update_colony(int colony, const ColonyState& state) {
    if (const ColonyBody* previous = body(colony)) {
        const Cells cells = cells_of(previous->bounds());
        for (int j = cells.front; j <= cells.back; ++j)
            for (int i = cells.left; i <= cells.right; ++i) std::erase(cell(i, j), colony);
    }
    body_[static_cast<std::size_t>(colony)].reset();
    if (state.present) insert(colony, state);
}

void Surroundings::insert(int colony, const ColonyState& state) {
    const auto c = static_cast<std::size_t>(colony);
    const Colony& placed = layout_.colonies[c];
    body_[c].emplace(shape_of(layout_.taxon_of(placed), placed, state));
    const Cells cells = cells_of(body_[c]->bounds());
    for (int j = cells.front; j <= cells.back; ++j)
        for (int i = cells.left; i <= cells.right; ++i) cell(i, j).push_back(colony);
}

std::vector<int> Surroundings::colonies_near(const Box& box) const {
    std::vector<int> near;
    const Cells cells = cells_of(box);
    for (int j = cells.front; j <= cells.back; ++j)
        for (int i = cells.left; i <= cells.right; ++i)
            for (const int c : cell(i, j))
                if (boxes_intersect(body(c)->bounds(), box)) near.push_back(c);
    std::sort(near.begin(), near.end());
    near.erase(std::unique(near.begin(), near.end()), near.end());
    return near;
}

std::vector<int> Surroundings::rocks_near(const Box& box) const {
    std::vector<int> near;
    for (std::size_t r = 0; r < rock_.size(); ++r)
        if (boxes_intersect(rock_[r].bounds(), box)) near.push_back(static_cast<int>(r));
    return near;
}

int Surroundings::rock_under(const Colony& colony, const Vec3& base_m) const {
    constexpr double kContactHeight_m = 0.01;
    int under = -1;
    for (std::size_t r = 0; r < rock_.size(); ++r) {
        const auto top_m = rock_[r].top_at(base_m.x(), base_m.y());
        if (!top_m || std::abs(*top_m - base_m.z()) > kContactHeight_m) continue;
        if (layout_.rocks[r].name == colony.on) return static_cast<int>(r);
        if (under < 0) under = static_cast<int>(r);
    }
    return under;
}

}  // namespace bedshade
