// Rock: solid shapes that carry corals, cast shade and deflect flow.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "model/base/geometry.h"
#include "model/base/solid.h"

namespace bedshade {

struct RockBox {
    Vec3 min_m, max_m;
};
/// A box of `size` around `centre`, tilted by `tilt` toward `azimuth`.
struct RockSlab {
    Vec3 centre_m, size_m;
    double tilt_rad = 0.0, azimuth_rad = 0.0;
};
/// Half an ellipsoid on a circular base around `centre`.
struct RockDome {
    Vec3 centre_m;
    double radius_m = 0.0, height_m = 0.0;
};
/// A triangle mesh in tank coordinates; immutable and shared by copies.
class RockMesh {
  public:
    RockMesh(std::vector<Vec3> vertices_m, std::vector<std::array<int, 3>> triangles)
        : solid_(std::make_shared<const Solid>(std::move(vertices_m), std::move(triangles))) {}
    const Solid& solid() const { return *solid_; }

  private:
    std::shared_ptr<const Solid> solid_;
};

enum class RestsOn { glass, sand, rock, wall };

struct Rock {
    std::string name;
    std::variant<RockBox, RockSlab, RockDome, RockMesh> shape;
    double reflectance = 0.15;  ///< diffuse, 400-700 nm [1]
    RestsOn rests_on = RestsOn::glass;
};

/// Whether a point lies inside the rock.
bool inside(const Rock& rock, const Vec3& point_m);

/// Height of the rock's upper surface above (x, y) [m], or none outside the rock.
std::optional<double> top_at(const Rock& rock, double x_m, double y_m);

/// Bounding box of the rock; for a slab that of its bounding sphere.
Box bounds_of(const Rock& rock);

}  // namespace bedshade
