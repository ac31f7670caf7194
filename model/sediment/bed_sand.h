// All sand of a layout: what moves on its bed, who moves it, and what of it reaches a coral.
//
// Built once for a layout and its flow, on a bed with the corals that stand there, and laid anew
// as they grow; everything in it is a mean. The season asks it, step by step, for the
// events of the step (once) and for what reaches each colony (follow_sand() then says what that
// does).
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/flow/flow_field.h"
#include "model/flow/seawater.h"
#include "model/flow/wake.h"
#include "model/reef/inhabitant.h"
#include "model/reef/rock.h"
#include "model/reef/substrate.h"
#include "model/reef/tank.h"
#include "model/reef/water.h"
#include "model/sediment/bioturbation.h"
#include "model/sediment/deposition.h"
#include "model/sediment/sand_load.h"
#include "model/sediment/sand_receptor.h"

namespace bedshade {

/// What reaches a receptor without pause.
struct SteadySand {
    std::vector<double> by_pump_kg_m2_d;  ///< index as Layout::pumps
    double suspended_kg_m2_d = 0.0;       ///< from the water's own turbidity
    double flow_speed_m_s = 0.0;          ///< root mean square at the receptor

    double deposition_kg_m2_d() const;  ///< all of it
};

/// Sand that reached a receptor in a stretch of time, by who sent it [kg/m2].
struct SandSources {
    std::vector<double> by_pump_kg_m2;        ///< index as Layout::pumps
    std::vector<double> by_inhabitant_kg_m2;  ///< index as Layout::inhabitants
    double suspended_kg_m2 = 0.0;

    double total_kg_m2() const;
};

class BedSand {
  public:
    BedSand(const Tank& tank, const Substrate& substrate, std::vector<Rock> rocks,
            const std::vector<Inhabitant>& inhabitants, const Water& water,
            std::shared_ptr<const FlowField> flow, const BedGrid& grid,
            const std::vector<FlowBody>& corals = {});

    /// Lays what pumps move anew for a bed on which these corals stand: behind them the drag is
    /// less. What animals throw flies as over an open bed.
    void shelter(const std::vector<FlowBody>& corals);

    const BedGrid& grid() const { return grid_; }

    /// Stress on the grains of each cell [y][x] in the pumps' strongest setting there [Pa]; 0 under
    /// rock.
    const std::vector<double>& shear_stress_Pa() const { return stress_Pa_; }

    /// Sand landing on each cell [y][x] in a mean day, pumps and animals together [kg m-2 d-1].
    const std::vector<double>& deposition_kg_m2_d() const { return deposition_kg_m2_d_; }

    /// Sand that comes to each cell [y][x] in a mean day less sand that leaves it, by pumps and
    /// animals together [kg m-2 d-1]; 0 under rock, where none leaves. What falls on corals is
    /// counted as come to the bed below them.
    const std::vector<double>& net_change_kg_m2_d() const { return net_change_kg_m2_d_; }

    /// Sand that all animals lift in a mean day [kg/d].
    double stirred_kg_d() const;

    /// Steady sand and flow at a receptor.
    SteadySand steady(const SandReceptor& receptor) const;

    /// Sand of a mean day on a receptor from each inhabitant [kg m-2 d-1].
    std::vector<double> mean_by_inhabitant_kg_m2_d(const SandReceptor& receptor) const;

    /// The animals' events in [from_d, to_d), in order of time.
    std::vector<BioturbationEvent> events(std::uint64_t seed, std::uint32_t member, double from_d,
                                          double to_d) const;

    /// What of these events lands on a receptor; those that miss it are left out.
    std::vector<Deposit> deposits(const SandReceptor& receptor,
                                  const std::vector<BioturbationEvent>& events) const;

    /// Who sent how much of what reached a receptor in `days` days.
    SandSources sources(const SteadySand& steady, const std::vector<Deposit>& deposits,
                        double days) const;

  private:
    BioturbationScene scene() const { return {tank_, substrate_, rocks_, *flow_, grid_, sea_}; }
    void lay_out_bed();
    void find_net_change();

    Tank tank_;
    Substrate substrate_;
    std::vector<Rock> rocks_;
    std::shared_ptr<const FlowField> flow_;
    BedGrid grid_;
    Seawater sea_;
    double suspended_kg_m2_d_ = 0.0;
    std::size_t pumps_ = 0;
    std::vector<ResuspendedSand> resuspended_;
    std::vector<Territory> territories_;
    std::vector<BioturbationEvent> mean_bioturbation_;
    std::vector<double> stress_Pa_, deposition_kg_m2_d_, net_change_kg_m2_d_;
};

}  // namespace bedshade
