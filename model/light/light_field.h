// Light under water: what every receptor gets from the lamps, through the surface, the water and
// what stands in the way, and which colony takes how much of it.
//
// Direct light only: exact refracted paths from sampled lamp faces (model/light/surface.h),
// absorbed along the way, stopped by rock and opaque colonies and thinned by porous ones.
#pragma once

#include <span>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/base/parallel.h"
#include "model/light/canopy.h"
#include "model/light/emitter.h"
#include "model/light/water_optics.h"
#include "model/reef/layout.h"

namespace bedshade {

/// A point that light falls on. A zero normal makes it a scalar sensor (light from all sides counts
/// in full); otherwise it is a flat one facing along the unit vector.
///
/// The receptors of a colony face along its axis, wherever on its surface they sit, and its own
/// body does not shade them: photosynthesis curves are measured on whole pieces of coral against
/// the light on a flat sensor beside them, so what a coral's own shape does to light is in its Ek
/// already.
struct LightReceptor {
    Vec3 position_m = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();
    double area_m2 = 1.0;  ///< its weight in means over a colony
};

/// How much of what would reach a colony without its neighbours one neighbour takes.
struct ShadeShare {
    int colony = -1;     ///< index into Layout::colonies
    double share = 0.0;  ///< of the light there would be with no other colony in the tank [0, 1]
};

/// The lamps on one day: how far each is turned up, and what the water lets through of its colours.
struct LampsToday {
    struct Lamp {
        double scale =
            0.0;  ///< share of full photon flux that gets through the cover, ageing included
        double plateau_hours = 0.0;
        Attenuation water;
    };
    std::vector<Lamp> lamps;
};

/// The lamps `day_d` after the season's start. `output_scale` multiplies every lamp (from
/// readings).
LampsToday lamps_on(const Layout& layout, double day_d, double output_scale);

/// Light on one colony, lamps at plateau.
struct ColonyLight {
    std::vector<double> patch_umol_m2_s;         ///< [patch][lamp]
    std::vector<double> patch_as_set_umol_m2_s;  ///< [patch][lamp], every other colony as on day 0
    std::vector<ShadeShare> taken;               ///< by each other colony, by index
    std::vector<ShadeShare> taken_since_set;     ///< the part gained since day 0, by index
};

/// The receptors of one colony.
struct ColonyReceptors {
    int colony = -1;
    std::vector<LightReceptor> patches;
};

class LightField {
  public:
    /// `samples` points on each extended lamp for each receptor.
    LightField(const Layout& layout, const BedGrid& bed, int samples = kLampSamples);

    static constexpr int kLampSamples = 16;

    /// The scene light is traced in: place the colonies of the day, then commit it.
    Canopy& canopy() { return now_; }
    /// The scene as it was set up, for what growth alone took away: place once, then commit it.
    Canopy& canopy_as_set() { return as_set_; }

    /// Plateau light of each lamp on every bed cell, [y][x][lamp] [umol m-2 s-1].
    std::vector<double> bed(const LampsToday& today, const ParallelFor& parallel) const;

    /// Light on colonies, in the order given.
    std::vector<ColonyLight> colonies(std::span<const ColonyReceptors> receptors,
                                      const LampsToday& today, const ParallelFor& parallel) const;

    /// Plateau light of each lamp at points, [point][lamp] [umol m-2 s-1].
    std::vector<double> points(std::span<const LightReceptor> receptors,
                               const LampsToday& today) const;

    std::size_t lamp_count() const { return emitters_.size(); }

  private:
    /// One refracted path from a point of a lamp to a receptor, before absorption and shade.
    struct Path {
        Eigen::Vector3f direction;  ///< from the receptor
        int lamp = 0;
        double length_m = 0.0;  ///< under water
        double weight = 0.0;    ///< PPFD at full output, absorption and shade aside
    };
    struct Ledger;

    void paths_to(const LightReceptor& receptor, std::uint32_t key, std::vector<Path>& out) const;
    void add_path(const LightReceptor& receptor, int lamp, const Vec3& source, int samples,
                  std::vector<Path>& out) const;
    bool in_opening(const Vec3& point) const;
    static Segment segment_of(const Eigen::Vector3f& from, const Path& path);
    static double arriving(const Path& path, const LampsToday& today);
    double open_share(const Segment& segment) const;
    ColonyLight colony(const ColonyReceptors& receptors, const LampsToday& today) const;
    void settle(const Segment& segment, int owner, double light, double day_weight, double& now,
                double& as_set, Ledger& ledger) const;

    Tank tank_;
    double refractive_index_ = 1.34;
    int samples_ = kLampSamples;
    std::vector<Emitter> emitters_;
    std::vector<double> photon_flux_umol_s_;  // by lamp, at full output
    Canopy now_;
    Canopy as_set_;
    std::vector<std::size_t> bed_first_;  // [cell] into bed_paths_, with an end mark
    std::vector<Path> bed_paths_;
    std::vector<Eigen::Vector3f> bed_points_;
};

}  // namespace bedshade
