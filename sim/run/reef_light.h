// The light field of a living reef: shapes of the day into the scene, receptors out of them.
//
// Colonies stand in the light as they were when last drawn (their anchor). One is drawn anew when
// its outline or height has moved by more than 0.7 mm, and its receptors when they have moved by
// more than 3 mm: far less than light changes over, and most days most colonies need neither.
// Diffuse light comes through a coarser picture, taken anew when any has grown by 4 mm or walked
// far.
#pragma once

#include <vector>

#include "model/growth/forms.h"
#include "model/growth/light_day.h"
#include "model/light/light_field.h"
#include "model/light/radiosity.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"
#include "model/reef/so_far.h"

namespace bedshade {

/// The bed's receptor grid: cells of 2.5 cm, or larger where that would make more than 40,000.
BedGrid bed_grid_of(const Tank& tank);

/// The reef on the day it is set up. Acclimation is left at the middle of each taxon's range, for
/// the season to set from the light it finds.
Reef baseline_reef(const Layout& layout);

/// The reef on the day that the season goes on from; where none is told, as it was set.
Reef reef_now(const Layout& layout);

/// The day of all lamps.
LightDay light_day_of(const Layout& layout);

/// A colony as light meets it.
ColonyInLight in_light(const Layout& layout, std::size_t colony, const ColonyState& state);

/// Light of all lamps together at each place, from [place][lamp].
std::vector<double> summed_over_lamps(const std::vector<double>& by_lamp, std::size_t places);

class ReefLight {
  public:
    /// `output_scale` multiplies every lamp (from meter readings; 1 without). `full` traces
    /// everything anew each day: the same bits, slowly, to check the quick way by.
    ReefLight(const Layout& layout, const Reef& baseline, double output_scale,
              const ParallelFor& parallel = run_serially, bool full = false);

    /// Brings scene, receptors, lamps and water to the reef's day.
    void follow(const Reef& reef, const ParallelFor& parallel = run_serially);

    /// What it goes by from one day to the next, besides the reef.
    TankMemory memory() const { return radiosity_.memory(); }
    void fill(std::size_t colony, ColonyMemory& memory) const;
    /// Takes up what the layout remembers of a season that was broken off. A colony without a
    /// memory is looked at anew.
    void remember(const ParallelFor& parallel);

    /// Plateau light of each lamp on the bed, [y][x][lamp] [umol m-2 s-1].
    const std::vector<double>& bed() const { return bed_; }
    /// Light on every present colony, in colony order; absent ones have empty patches.
    const std::vector<ColonyLight>& colonies() const { return colonies_; }
    /// Plateau light of each lamp at points, [point][lamp] [umol m-2 s-1].
    std::vector<double> points(std::span<const LightReceptor> receptors) const;

    const BedGrid& grid() const { return grid_; }
    /// The patches that a colony's light is known on, with their areas.
    const std::vector<LightReceptor>& receptors(std::size_t colony) const {
        return field_.receptors(static_cast<int>(colony));
    }
    std::size_t lamp_count() const { return field_.lamp_count(); }
    std::size_t path_count() const { return field_.path_count(); }

  private:
    static DrawnShape anchor_of(const ColonyState& state);
    static bool apart(const DrawnShape& a, const DrawnShape& b, double by_m);
    ColonyShape shape(std::size_t colony, const ColonyState& state) const;
    void draw(std::size_t colony, const DrawnShape& anchor);
    void receive(std::size_t colony, const DrawnShape& anchor);
    void picture(std::size_t colony, const DrawnShape& anchor);
    void follow_colony(std::size_t colony, const ColonyState& state);
    void update_radiosity(const Reef& reef, const ParallelFor& parallel);
    void place_in_radiosity(std::size_t colony, const ColonyState& state);
    void solve(const ParallelFor& parallel);

    const Layout& layout_;
    double output_scale_;
    bool full_;
    BedGrid grid_;
    Radiosity radiosity_;
    LightField field_;
    LampsToday today_;
    std::vector<double> bed_;                              // light of the day, [y][x][lamp]
    std::vector<ColonyLight> colonies_;                    // light of the day
    std::vector<DrawnShape> drawn_, received_, pictured_;  // by colony
    bool links_traced_ = false;
};

}  // namespace bedshade
