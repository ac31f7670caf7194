// What stands around a colony: rocks, and the other colonies as they are at the start of a step.
#pragma once

#include <optional>
#include <vector>

#include "model/base/geometry.h"
#include "model/growth/body.h"
#include "model/growth/rock_probe.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"

namespace bedshade {

class Surroundings {
  public:
    /// Indexes the rocks. Keeps a reference to `layout`, which must outlive it.
    explicit Surroundings(const Layout& layout);

    /// Takes up the colonies as they are; those not present are not there.
    void set_colonies(const Reef& reef);
    /// Takes up one colony anew, where it has moved since.
    void update_colony(int colony, const ColonyState& state);

    const Layout& layout() const { return layout_; }
    int colony_count() const { return static_cast<int>(body_.size()); }
    /// The body of a colony, or null where it is absent.
    const ColonyBody* body(int colony) const {
        const auto& body = body_[static_cast<std::size_t>(colony)];
        return body ? &*body : nullptr;
    }
    const RockProbe& rock(int rock) const { return rock_[static_cast<std::size_t>(rock)]; }

    /// Colonies, in ascending order, whose bounds meet a box.
    std::vector<int> colonies_near(const Box& box) const;
    /// Rocks, in ascending order, whose bounds meet a box.
    std::vector<int> rocks_near(const Box& box) const;
    /// The rock that a colony stands on: one whose top is within a centimetre of its base, the one
    /// it names before others; -1 for none.
    int rock_under(const Colony& colony, const Vec3& base_m) const;

  private:
    /// Cells of a grid over the tank's floor that a box covers.
    struct Cells {
        int left, right, front, back;
    };
    Cells cells_of(const Box& box) const;
    void insert(int colony, const ColonyState& state);
    std::vector<int>& cell(int i, int j) { return cell_[cell_number(i, j)]; }
    const std::vector<int>& cell(int i, int j) const { return cell_[cell_number(i, j)]; }
    std::size_t cell_number(int i, int j) const {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(nx_) +
               static_cast<std::size_t>(i);
    }

    const Layout& layout_;
    std::vector<RockProbe> rock_;
    std::vector<std::optional<ColonyBody>> body_;
    int nx_ = 1, ny_ = 1;
    std::vector<std::vector<int>> cell_;  ///< colonies by cell of the floor
};

/// Whether two boxes share a point.
bool meet(const Box& a, const Box& b);
/// A box grown by a distance on every side.
Box grown(const Box& box, double by_m);

}  // namespace bedshade
