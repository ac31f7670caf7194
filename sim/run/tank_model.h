// A layout with its settings in force, and what is found once for them: lamps' paths, flow, sand.
//
// Everything here is a function of layout and settings; what is kept between steps (light scene,
// bed behind its wakes, index of neighbours) is brought to what a step asks for, so that a step's
// result depends on its arguments only.
#pragma once

#include <memory>
#include <vector>

#include "model/flow/flow_field.h"
#include "model/growth/light_day.h"
#include "model/growth/surroundings.h"
#include "model/sediment/bed_sand.h"

#include "sim/run/flow_cache.h"
#include "sim/run/reef_light.h"
#include "sim/run/run_options.h"
#include "sim/run/settings.h"

namespace bedshade {

class TankModel {
  public:
    /// Settings are those of the run's first day.
    TankModel(const Layout& layout, const RunOptions& options, ParallelFor parallel);

    /// Applies the settings of a day, and finds anew what they decide; returns what they were.
    Invalidated apply_settings(double day_d);

    const Layout& layout() const { return layout_; }  ///< with settings in force
    const RunOptions& options() const { return options_; }
    const ParallelFor& parallel() const { return parallel_; }
    const Taxon& taxon(std::size_t colony) const {
        return layout_.taxon_of(layout_.colonies[colony]);
    }
    std::size_t colonies() const { return layout_.colonies.size(); }
    double full_growth_net(std::size_t colony) const { return full_growth_net_[colony]; }

    const LightDay& light_day() const { return light_day_; }
    ReefLight& light() const { return *light_; }
    const std::shared_ptr<const FlowField>& flow() const { return flow_; }
    /// The bed behind bodies that shelter it.
    const BedSand& sand_behind(const std::vector<FlowBody>& bodies) const;
    /// The neighbourhood of every colony of a reef; good until it is asked for again.
    Surroundings& surroundings(const Reef& reef) const;

  private:
    void rebuild(const Invalidated& invalidated);

    Layout layout_;
    RunOptions options_;
    ParallelFor parallel_;
    std::vector<double> full_growth_net_;  // by colony
    LightDay light_day_;
    std::unique_ptr<ReefLight> light_;
    std::shared_ptr<const FlowField> flow_;
    mutable std::unique_ptr<BedSand> sand_;
    mutable std::vector<FlowBody> sheltered_by_;  // the bodies that `sand_` was laid for
    std::unique_ptr<Surroundings> surroundings_;
};

}  // namespace bedshade
