// The forecast of a bed: light, flow, sand and neighbours over one run, stored so that any coral
// can be assessed at any site without another run.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <vector>

#include "model/flow/wake.h"
#include "model/growth/body.h"
#include "model/growth/light_day.h"
#include "model/sediment/bed_sand.h"

#include "sim/run/forecast.h"
#include "sim/verdict/run_record.h"

namespace bedshade {

/// Heights over the bed at which light is stored [m]; linear between them.
inline constexpr std::array kLightHeights_m = {0.008, 0.04, 0.12};

/// A colony of the layout on one day.
struct NeighbourThen {
    ColonyBody body;
    double low_m = 0.0, high_m = 0.0;  ///< span of its rim above the bed
    double radius_m = 0.0;             ///< of the disc of its outline's area
    double light_of_need = 0.0;        ///< daily light over its need; infinite where it needs none
};

/// The bed on one day, and in the month before it.
struct BedDay {
    double day_d = 0.0;
    std::vector<float> dli_mol_m2_d;  ///< on the bed by cell, mean since the day before in the list
    std::vector<std::optional<NeighbourThen>> colonies;  ///< those with tissue
    std::vector<FlowBody> in_the_flow;                   ///< those that stand, dead or alive
    double food = 1.0;           ///< against what is usual, in the month from it on, for all
    double temperature_C = 0.0;  ///< of the water
};

class BedForecast {
  public:
    /// Runs the layout to its horizon and keeps a day in every month; light above the bed is looked
    /// at in every third. Keeps a reference to
    /// `layout`, which must outlive it. `go_on` is asked once a step with the share done.
    BedForecast(const Layout& layout, const RunOptions& options, const ParallelFor& parallel,
                const GoOn& go_on);

    bool finished() const { return finished_; }  ///< not stopped by `go_on`
    const Layout& layout() const { return layout_; }
    const BedGrid& grid() const { return grid_; }
    const std::vector<BedDay>& days() const { return days_; }
    const LightDay& light_day() const { return light_day_; }
    /// On the bed as it is set up.
    const BedSand& sand() const { return *sand_; }
    const FlowField& flow() const { return *flow_; }
    /// Speed at a point on a day, in the lee of the colonies that stand then [m/s].
    double speed_m_s(const BedDay& day, const Vec3& at_m) const;
    /// What animals do to the sand in the first kSandDays_d days.
    const std::vector<BioturbationEvent>& stirring() const { return stirring_; }
    static constexpr int kSandDays_d = 28;

    Vec2 site_m(std::size_t cell) const;
    /// Light of each lamp on a level face at a height over a cell [umol m-2 s-1], lamps at plateau,
    /// mean of the month before the day. Between the days with light by height, the ratio to the
    /// bed's light is interpolated.
    void light_at(std::size_t day, std::size_t cell, double height_m, double* by_lamp) const;
    /// Lowest rock over a cell's centre [m]: 0 if it stands on the bed, infinite if there is none.
    double rock_over_m(std::size_t cell) const { return rock_over_m_[cell]; }
    bool is_open_sand(std::size_t cell) const { return rock_over_m_[cell] > 0.0; }
    std::size_t open_cells() const;

  private:
    class Keeper;
    /// Light over the bed on a day: that of each lamp over the bed's daily light.
    struct HeightLight {
        double day_d = 0.0;
        std::vector<float> per_dli;  ///< [height][cell][lamp]
    };
    void find_rock_over();
    double part_at(const HeightLight& light, std::size_t cell, double height_m,
                   std::size_t lamp) const;

    const Layout& layout_;
    BedGrid grid_;
    LightDay light_day_;
    std::shared_ptr<const FlowField> flow_;
    std::unique_ptr<BedSand> sand_;
    std::vector<BioturbationEvent> stirring_;
    std::vector<double> rock_over_m_;
    std::vector<BedDay> days_;
    std::vector<HeightLight> heights_;
    bool finished_ = false;
};

}  // namespace bedshade
