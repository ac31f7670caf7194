// A pump's jet in a large tank, far from all glass.
#pragma once

#include <memory>

#include "model/flow/imposed_jet.h"
#include "model/flow/jets.h"
#include "model/flow/solver/incompressible_solver.h"
#include "model/reef/pump.h"

namespace bedshade::cases {

/// What the sides of the box are: glass all round with a calm surface, or open water, in which the
/// jet draws in as much as the exact jet of the same thrust and viscosity does (LandauJet).
enum class JetRoom { closed, open };

struct JetSetup {
    double flow_m3_s = 5000.0 / 3.6e6;
    double nozzle_m = 0.025;
    double cell_m = 0.03;
    JetRoom room = JetRoom::closed;
};

/// The jet of a pump along x, 5 cells before the lower side, in the middle of 41 x 41 cells.
class FreeJet {
  public:
    explicit FreeJet(const JetSetup& setup);

    /// Lets the water settle, for a time that goes with the box's section over the root of the
    /// thrust.
    void settle();

    const IncompressibleSolver& flow() const { return *flow_; }
    double thrust_m4_s2() const;

    /// Speed on the axis so many nozzle diameters from the nozzle, at the nearest face, as the
    /// program tells it; and what a free jet of the measured decay has there [m/s].
    double told_m_s(double diameters) const;
    double measured_m_s(double diameters) const;
    /// Distance off the axis at which the grid's speed is half of that on it, by straight lines
    /// between faces [m].
    double half_width_m(double diameters) const;
    /// Growth of the half-width between two distances [1].
    double spread(double from_diameters, double to_diameters) const;
    /// Forward momentum through the section; and with the pressure on it [both over thrust].
    double momentum_share(double diameters) const;
    double impulse_share(double diameters) const;

  private:
    int face_at(double diameters) const;
    double along_m(double diameters) const;

    Pump pump_;
    Jet jet_;
    std::unique_ptr<ImposedJet> imposed_;
    std::unique_ptr<IncompressibleSolver> flow_;
};

}  // namespace bedshade::cases
