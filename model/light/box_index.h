// Boxes that can be asked which of them a segment passes through, in time that grows with the log
// of their number.
#pragma once

#include <memory>
#include <vector>

#include "model/base/geometry.h"
#include "model/light/light_scene.h"

namespace bedshade {

/// Whether a segment passes through a box (slab test; Kay & Kajiya 1986).
bool passes(const Box& box, const Segment& segment);

class BoxIndex {
  public:
    BoxIndex();
    ~BoxIndex();
    BoxIndex(const BoxIndex&) = delete;
    BoxIndex& operator=(const BoxIndex&) = delete;

    /// Indexes these boxes anew; empty ones are passed by nothing.
    void build(const std::vector<Box>& boxes);

    /// Lists the boxes a segment passes through, in ascending order. Safe from many threads at
    /// once.
    void passed(const Segment& segment, std::vector<int>& out) const;

  private:
    struct Scene;
    std::unique_ptr<Scene> scene_;
};

}  // namespace bedshade
