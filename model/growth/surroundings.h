// Surroundings of colonies: rocks, and the colonies at the start of a step, in a spatial index.
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

    /// Sets the bodies of all colonies that are present.
    void set_colonies(const Reef& reef);
    /// Updates one colony that has moved.
    void update_colony(int colony, const ColonyState& state);

    const Layout& layout() const { return layout_; }
    int colony_count() const { return static_cast<int>(body_.size()); }
    /// The body of a colony, or null where it is absent.
    const ColonyBody* body(int colony) const {
        const auto& body = body_[static_cast<std::size_t>(colony)];
        return body ? &*body : nullptr;
    }
    const RockProbe& rock(int rock) const { return rock_[static_cast<std::size_t>(rock)]; }

    /// Colonies whose bounds intersect a box, in ascending order.
    std::vector<int> colonies_near(const Box& box) const;
    /// Rocks whose bounds intersect a box, in ascending order.
    std::vector<int> rocks_near(const Box& box) const;
    /// The rock below a colony: one whose top is within 1 cm of its base, preferably the one named
    /// in the layout; -1 for none.
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

/// Whether two boxes intersect.
bool boxes_intersect(const Box& a, const Box& b);
/// A box enlarged by a distance on every side.
Box grown(const Box& box, double by_m);

}  // namespace bedshade
