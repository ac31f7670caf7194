// Light followed backwards from a receptor, by way of mirroring panes and the underside of the
// surface, to the sand, rock, coral or wall it was thrown back by.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/light/light_scene.h"
#include "model/light/refractive_index.h"
#include "model/light/solid_patches.h"

namespace bedshade {

/// What throws light back, numbered through: sand cells, pieces of rock and wall, then the upper
/// and lower sides of every colony, each in parts.
class RadiosityElements {
  public:
    static constexpr int kSextants = 6;
    static constexpr int kTopParts = kSextants;        ///< of a colony's upper side
    static constexpr int kUnderParts = 2 * kSextants;  ///< of its lower side: inner, outer ring
    static constexpr int kColonyParts = kTopParts + kUnderParts;

    RadiosityElements(const BedGrid& bed, int solids, int colonies)
        : bed_(bed),
          first_solid_(static_cast<int>(bed.size())),
          first_colony_(first_solid_ + solids),
          count_(static_cast<std::size_t>(first_colony_ + colonies * kColonyParts)) {}

    std::size_t count() const { return count_; }
    int sand(const Eigen::Vector3f& at_m) const {
        return static_cast<int>(bed_.index(bed_.column_at(static_cast<double>(at_m.x())),
                                           bed_.row_at(static_cast<double>(at_m.y()))));
    }
    int solid(int piece) const { return piece < 0 ? -1 : first_solid_ + piece; }
    int top(int colony, int part) const { return first_colony_ + colony * kColonyParts + part; }
    int under(int colony, int part) const { return top(colony, kTopParts + part); }

  private:
    BedGrid bed_;
    int first_solid_, first_colony_;
    std::size_t count_;
};

/// Where one backward way ends.
struct TransportLink {
    int element = -1;       ///< -1: nothing is there to be seen
    float weight = 0.0F;    ///< of that element's exitance, beside its albedo [1]
    float length_m = 0.0F;  ///< under water
    bool buried = false;    ///< the way starts inside a solid
};

class LinkTracer {
  public:
    LinkTracer(const Layout& layout, const BedGrid& bed);

    const RadiosityElements& elements() const { return elements_; }
    const SolidPatches& solids() const { return solids_; }

    /// The scene as it is to be followed through.
    LightScene& scene() { return scene_; }
    /// Says where a colony stands, to tell its parts apart.
    void bound(int colony, const Box& box) { bounds_[static_cast<std::size_t>(colony)] = box; }

    /// The part of a colony's upper side at a spot, and of its lower side.
    int top_part(int colony, const Vec3& at_m) const;
    int under_part(int colony, const Vec3& at_m) const;

    /// Follows light backwards from `from_m` along `direction`. Where it may go either way
    /// (mirrored or let through, met by a branch or not) one way is drawn by `key`, in proportion.
    /// Colony `own` is not in its way (-1: all are).
    TransportLink follow(const Eigen::Vector3f& from_m, const Eigen::Vector3f& direction, int own,
                         std::uint32_t key) const;

  private:
    struct Way;

    bool meet_bound(Way& way, float to_bound, int axis) const;
    TransportLink seen(const Hit& stop, const Way& way) const;
    double turned_back(const Way& way, int axis, bool far) const;
    int element_at(const Way& way, int axis, bool far) const;

    Eigen::Vector3f size_m_;  // of the water
    double water_index_;
    PaneIndices pane_index_;
    SolidPatches solids_;
    RadiosityElements elements_;
    LightScene scene_;
    std::vector<Box> bounds_;  // by colony
};

}  // namespace bedshade
