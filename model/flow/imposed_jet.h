// Imposed jet: the part of a pump's jet that is too narrow for the grid, imposed by a body force.
//
// A nozzle is narrower than a cell. From the nozzle to where the half-width of the true jet is 1.5
// cells, its self-similar profile is imposed along its axis; beyond that the solver carries it.
// Where the true jet is narrower than a cell, a jet one cell wide with the same momentum is
// imposed. The body force has exactly the pump's thrust, rho Q U (BodyForce). The pump's intake is
// assumed beside its nozzle, so volume is balanced within a cell or two; entrained water follows
// from continuity on the grid.
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

    /// The body force that imposes the jet.
    BodyForce body_force() const;

    /// Velocity of the true jet up to where the grid resolves it or an obstacle, 0 elsewhere [m/s].
    Vec3 subgrid_velocity_m_s(const Vec3& point_m) const;

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
    double imposed_length_m_ = 0.0, subgrid_length_m_ = 0.0;  ///< lengths from the nozzle
};

}  // namespace bedshade
