// Sand budget of the bed: resuspension by pumps and bioturbation by animals, deposition and net bed
// change by cell, and deposition on a coral by source (pumps, animals, suspended sediment).
//
// Built for a layout and its flow, and updated as the corals grow; everything in it is a time mean.
// In each step the run gets the bioturbation events of the step (once) and the sand that reaches
// each colony; follow_sand() then integrates the load on its tissue.
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

/// Steady deposition and flow at a receptor.
struct SteadySand {
    std::vector<double> by_pump_kg_m2_d;  ///< index as Layout::pumps
    double suspended_kg_m2_d = 0.0;  ///< suspended sediment that settles from the water (turbidity)
    double flow_speed_m_s = 0.0;     ///< root mean square at the receptor

    double deposition_kg_m2_d() const;  ///< sum over all sources
};

/// Sand deposited on a receptor in a time interval, by source [kg/m2].
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

    /// Recomputes resuspension for a bed with these corals: bed stress is lower in their wakes.
    /// Bioturbation is not affected.
    void update_wakes(const std::vector<FlowBody>& corals);

    const BedGrid& grid() const { return grid_; }

    /// Stress on the grains of each cell [y][x] in the strongest pump setting there [Pa]; 0 under
    /// rock.
    const std::vector<double>& shear_stress_Pa() const { return stress_Pa_; }

    /// Deposition on each cell [y][x] on a mean day, pumps and animals together [kg m-2 d-1].
    const std::vector<double>& deposition_kg_m2_d() const { return deposition_kg_m2_d_; }

    /// Net bed change: deposition minus resuspension of each cell [y][x] on a mean day, pumps and
    /// animals together [kg m-2 d-1]; 0 under rock. Deposition on corals counts as deposition on
    /// the bed below them.
    const std::vector<double>& net_change_kg_m2_d() const { return net_change_kg_m2_d_; }

    /// Sand that all animals lift on a mean day [kg/d].
    double bioturbation_kg_d() const;

    /// Steady sand and flow at a receptor.
    SteadySand steady(const SandReceptor& receptor) const;

    /// Deposition on a receptor on a mean day, by inhabitant [kg m-2 d-1].
    std::vector<double> mean_by_inhabitant_kg_m2_d(const SandReceptor& receptor) const;

    /// Bioturbation events in [from_d, to_d), in order of time.
    std::vector<BioturbationEvent> events(std::uint64_t seed, std::uint32_t member, double from_d,
                                          double to_d) const;

    /// Deposits of these events on a receptor, without those that miss it.
    std::vector<Deposit> deposits(const SandReceptor& receptor,
                                  const std::vector<BioturbationEvent>& events) const;

    /// Deposition on a receptor in `days` days, by source.
    SandSources sources(const SteadySand& steady, const std::vector<Deposit>& deposits,
                        double days) const;

  private:
    BioturbationScene scene() const { return {tank_, substrate_, rocks_, *flow_, grid_, sea_}; }
    void compute_deposition();
    void compute_net_change();

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
