// The part of a pump's jet that a grid cannot resolve, imposed on it until it can.
//
// A nozzle is narrower than a cell. From the nozzle until the true jet is one and a half cells to
// its half-width, its self-similar shape is imposed on the water along its axis; from there on the
// water carries it alone. Where the true jet is narrower than a cell the grid is told one a cell
// wide with the same momentum. The imposed shape takes the pump's thrust, rho Q U, exactly
// (BodyForce). A pump takes in beside its nozzle what it sends out, which closes the balance of
// volume within a cell or two; water that follows the jet is drawn in by the grid's own continuity.
#pragma once

#include <vector>

#include "model/flow/jets.h"
#include "model/flow/solver/solver_case.h"
#include "model/reef/pump.h"
#include "model/reef/rock.h"

namespace bedshade {

class ImposedJet {
  public:
    /// `water` is the box of the tank's water; the jet ends short of rock, glass, bed and surface.
    ImposedJet(const Pump& pump, const Box& water, const std::vector<Rock>& rocks, double cell_m);

    /// What the grid is driven toward.
    BodyForce body_force() const;

    /// The true jet as far as it is too narrow for the grid or meets something, 0 elsewhere [m/s].
    Vec3 true_m_s(const Vec3& point_m) const;

  private:
    struct Place {
        double along_m, radius_m;
    };
    Place place(const Vec3& point_m) const;
    double coarse_half_width_m(double along_m) const;
    double coarse_speed_m_s(const Place& at) const;
    double weight(const Place& at) const;

    Jet jet_;
    double cell_m_;
    double kinematic_thrust_m4_s2_;
    double imposed_m_ = 0.0, told_m_ = 0.0;  ///< lengths from the nozzle
};

}  // namespace bedshade
