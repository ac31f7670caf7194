// Photon history: one photon from emission to its end, event by event.
#pragma once

#include <optional>

#include "model/base/bed_grid.h"
#include "model/base/random.h"
#include "model/monte_carlo/lamp_source.h"
#include "model/monte_carlo/tally.h"
#include "model/monte_carlo/traced_tank.h"

namespace bedshade::monte_carlo {

/// A horizontal virtual detector: tallies photons that cross it downward, without affecting them.
struct TallyDisc {
    Vec3 at_m = Vec3::Zero();  ///< of its centre, 0 <= z <= water depth
    double radius_m = 0.015;
};

/// The scene, common to all photons of a run.
struct TransportContext {
    const Scene& scene;
    const Obstacles& obstacles;
    const OpticsByBand& optics;
    const BedGrid& bed;
    const std::vector<TallyDisc>& sensors;
};

class PhotonHistory {
  public:
    /// Largest number of events of one photon; reached only in a scene without losses.
    static constexpr int kMaxEvents = 1'000'000;

    /// Photons of lamp `lamp`, sampled from `random`, tallied in `tally`.
    PhotonHistory(const TransportContext& context, std::size_t lamp, RandomStream& random,
                  BatchTally& tally);

    /// Traces one photon from its lamp to its end.
    End follow(const LampSource& source);

  private:
    using MaybeEnd = std::optional<End>;
    /// Boundaries of the photon's medium: the four sides, and a plane below and above.
    enum class Boundary { front, back, left, right, below, above };
    struct BoundaryDistance {
        double length_m = 0.0;
        Boundary to = Boundary::below;
    };

    MaybeEnd enter_tank();
    MaybeEnd enter_by_rim();
    MaybeEnd pass_dry_pane(Side side);
    bool over_opening(const Vec3& at_m) const;
    Vec3 corner_of(Side side) const;
    MaybeEnd step();
    BoundaryDistance next_boundary() const;
    void move(double length_m, bool onto_sand);
    void tally_sensors(const Vec3& from_m, const Vec3& to_m);
    void count(std::size_t place);
    bool bernoulli(double probability) { return random_.uniform() < probability; }

    MaybeEnd scatter(double survival);
    MaybeEnd hit_body(const Hit& hit);
    MaybeEnd hit_boundary(Boundary boundary);
    MaybeEnd hit_sand();
    MaybeEnd hit_surface();
    MaybeEnd hit_wall(Side side);
    MaybeEnd hit_pane(Side side, bool acrylic);
    MaybeEnd reflect_diffusely(const Vec3& normal, double reflectance, End otherwise);

    const TransportContext& context_;
    std::size_t lamp_;
    RandomStream& random_;
    BatchTally& tally_;
    Obstacles::Workspace workspace_;

    Ray ray_;
    BandOptics optics_;
    bool in_water_ = false;
    double absorption_length_left_m_ = 0.0;  // path length in water until it is absorbed
};

}  // namespace bedshade::monte_carlo
