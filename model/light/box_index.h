// Bounding volume hierarchy over boxes: finds those that a segment intersects in logarithmic time.
#pragma once

#include <memory>
#include <vector>

#include "model/base/geometry.h"
#include "model/light/light_scene.h"

namespace bedshade {

/// Whether a segment intersects a box (slab test; Kay & Kajiya 1986).
bool intersects(const Box& box, const Segment& segment);

class BoxIndex {
  public:
    BoxIndex();
    ~BoxIndex();
    BoxIndex(const BoxIndex&) = delete;
    BoxIndex& operator=(const BoxIndex&) = delete;

    /// Rebuilds the index from these boxes; nothing intersects an empty one.
    void build(const std::vector<Box>& boxes);

    /// Lists the boxes that a segment intersects, in ascending order. Thread-safe.
    void boxes_hit(const Segment& segment, std::vector<int>& out) const;

  private:
    struct Scene;
    std::unique_ptr<Scene> scene_;
};

}  // namespace bedshade
