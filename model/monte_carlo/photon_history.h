// One photon's way through the tank, from a lamp to its end.
#pragma once

#include <optional>

#include "model/base/bed_grid.h"
#include "model/base/random.h"
#include "model/monte_carlo/lamp_source.h"
#include "model/monte_carlo/tally.h"
#include "model/monte_carlo/traced_tank.h"

namespace bedshade::monte_carlo {

/// A level disc that faces up and counts photons on their way down, without being in their way.
struct TallyDisc {
    Vec3 at_m = Vec3::Zero();  ///< of its middle, 0 <= z <= water depth
    double radius_m = 0.015;
};

/// What every photon of a run meets.
struct Surroundings {
    const Scene& scene;
    const Obstacles& obstacles;
    const OpticsByBand& optics;
    const BedGrid& bed;
    const std::vector<TallyDisc>& sensors;
};

class PhotonHistory {
  public:
    /// A photon is given up after this many events: only a scene without losses can hold one so
    /// long.
    static constexpr int kMostEvents = 1'000'000;

    /// Photons of lamp `lamp`, counted into `tally`, drawn from `random`.
    PhotonHistory(const Surroundings& around, std::size_t lamp, RandomStream& random,
                  BatchTally& tally);

    /// Follows one photon from its lamp to its end.
    End follow(const LampSource& source);

  private:
    using MaybeEnd = std::optional<End>;
    /// What bounds the photon's medium: the four sides, and a plane below and one above.
    enum class Bound { front, back, left, right, below, above };
    struct Way {
        double length_m = 0.0;
        Bound to = Bound::below;
    };

    MaybeEnd enter_tank();
    MaybeEnd enter_by_rim();
    MaybeEnd pass_dry_pane(Side side);
    bool over_opening(const Vec3& at_m) const;
    Vec3 corner_of(Side side) const;
    MaybeEnd step();
    Way way_out() const;
    void move(double length_m, bool onto_sand);
    void count_sensors(const Vec3& from_m, const Vec3& to_m);
    void count(std::size_t place);
    bool chance(double probability) { return random_.uniform() < probability; }

    MaybeEnd scatter(double survival);
    MaybeEnd meet_body(const Meeting& met);
    MaybeEnd meet_bound(Bound bound);
    MaybeEnd meet_sand();
    MaybeEnd meet_surface();
    MaybeEnd meet_wall(Side side);
    MaybeEnd meet_pane(Side side, bool acrylic);
    MaybeEnd reflect_diffusely(const Vec3& normal, double reflectance, End otherwise);

    const Surroundings& around_;
    std::size_t lamp_;
    RandomStream& random_;
    BatchTally& tally_;
    Obstacles::Room room_;

    Ray ray_;
    BandOptics optics_;
    bool in_water_ = false;
    double water_left_m_ = 0.0;  // way through water before it is absorbed
};

}  // namespace bedshade::monte_carlo
