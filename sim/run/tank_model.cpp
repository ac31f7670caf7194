#include "sim/run/tank_model.h"

#include <utility>

#include "model/growth/energy.h"

#include "sim/run/actions.h"
#include "sim/run/checkpoint.h"

namespace bedshade {

TankModel::TankModel(const Layout& layout, const RunOptions& options, ParallelFor parallel)
    : layout_(layout),
      options_(options),
      parallel_(std::move(parallel)),
      surroundings_(std::make_unique<Surroundings>(layout_)) {
    for (const Colony& colony : layout_.colonies)
        full_growth_net_.push_back(full_growth_net_carbon(layout_.taxon_of(colony)));
    const double from_d = options_.checkpoint ? options_.checkpoint->day_d : 0.0;
    bedshade::apply_settings(0.0, layout_);
    for (const double day_d : action_days(layout))
        if (day_d > 0.0 && (day_d < from_d || is_same_day(day_d, from_d)))
            bedshade::apply_settings(day_d, layout_);
    rebuild({true, true, true, true});
}

Invalidated TankModel::apply_settings(double day_d) {
    const Invalidated invalidated = bedshade::apply_settings(day_d, layout_);
    rebuild(invalidated);
    return invalidated;
}

void TankModel::rebuild(const Invalidated& invalidated) {
    if (invalidated.lamp_places)
        light_ = std::make_unique<ReefLight>(layout_, options_.output_scale, options_.full_light);
    if (invalidated.lamp_hours) light_day_ = light_day_of(layout_);
    if (invalidated.flow) flow_ = process_flow_cache().flow_of(layout_, parallel_);
    if (invalidated.flow || invalidated.suspended) sand_.reset();
}

const BedSand& TankModel::sand_behind(const std::vector<FlowBody>& bodies) const {
    if (sand_ && bodies == sheltered_by_) return *sand_;
    if (sand_)
        sand_->update_wakes(bodies);
    else
        sand_ = std::make_unique<BedSand>(layout_.tank, layout_.substrate, layout_.rocks,
                                          layout_.inhabitants, layout_.water, flow_, light_->grid(),
                                          bodies);
    sheltered_by_ = bodies;
    return *sand_;
}

Surroundings& TankModel::surroundings(const Reef& reef) const {
    surroundings_->set_colonies(reef);
    return *surroundings_;
}

}  // namespace bedshade
