// What a season was like on the whole: means over its days, and where it ended.
#pragma once

#include <vector>

#include "sim/season/frame.h"

namespace bedshade {

/// One colony over the days it was there, weighted by the length of each step.
struct ColonySeason {
    double days = 0.0;             ///< it was in the tank; all means are 0 when it never was
    double dli_mol_m2_d = 0.0;     ///< mean
    double flow_speed_m_s = 0.0;   ///< mean
    double fallout_kg_m2_d = 0.0;  ///< mean
    double most_sand_kg_m2 = 0.0;  ///< that ever lay on it
    double end_diameter_m = 0.0;
    double end_live_fraction = 0.0;

    bool operator==(const ColonySeason&) const = default;
};

/// The bed cell by cell, [y][x]: means over the season.
struct BedSeason {
    std::vector<double> ppfd_umol_m2_s, shear_stress_Pa, fallout_kg_m2_d;
    std::vector<double> drift_kg_m2_d;  ///< sand come less sand gone

    bool operator==(const BedSeason&) const = default;
};

class SeasonMeans final : public FrameSink {
  public:
    void take(const Frame& frame) override;

    /// By colony, in the layout's order.
    const std::vector<ColonySeason>& colonies() const { return colonies_; }
    const BedSeason& bed() const { return bed_; }

  private:
    void note_colony(const Frame& frame, std::size_t colony);

    double days_ = 0.0;
    std::vector<ColonySeason> colonies_;
    BedSeason bed_;
};

}  // namespace bedshade
