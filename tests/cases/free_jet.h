// A pump's jet in a large tank, far from the glass.
#pragma once

#include <memory>

#include "model/flow/imposed_jet.h"
#include "model/flow/jets.h"
#include "model/flow/solver/incompressible_solver.h"
#include "model/reef/pump.h"

namespace bedshade::cases {

/// Sides of the box: glass with a calm surface, or open water with the entrainment of the exact jet
/// of the same thrust and viscosity (LandauJet).
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

    /// Runs to steady state, for a time proportional to the box's section over the square root of
    /// the thrust.
    void run_to_steady_state();

    const IncompressibleSolver& flow() const { return *flow_; }
    double thrust_m4_s2() const;

    /// Speed on the axis at a distance in nozzle diameters, at the nearest face, from the program;
    /// and that of a free jet with the measured decay [m/s].
    double told_m_s(double diameters) const;
    double measured_m_s(double diameters) const;
    /// Half-width of the jet on the grid, by linear interpolation between faces [m].
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
