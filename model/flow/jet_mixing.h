// Eddy viscosity of a tank that is stirred by jets.
//
// A free round jet has one eddy viscosity throughout, since its speed falls as its width grows: the
// one with which the exact round jet of constant viscosity (Schlichting 1933) slows down as
// measured ones do. A two-equation model would cost twice as much and makes round jets a third too
// wide (Pope 1978; from memory).
#pragma once

#include <vector>

#include "model/flow/jets.h"
#include "model/reef/pump.h"

namespace bedshade {

/// Eddy viscosity of a free round jet of this thrust over density [m2/s].
double jet_eddy_viscosity_m2_s(double kinematic_thrust_m4_s2, double spread = kNozzleJetSpread);

/// Where several jets meet, the mean of theirs by the squares of their speeds; away from all of
/// them, by the squares of the speeds that each could give to the whole tank.
class JetMixing {
  public:
    /// `section_m2` is the tank's mean cross-section. Where a jet is narrower than the grid's cells
    /// it hardly mixes: the grid is told a jet as wide as a cell there, which must not yet grow.
    JetMixing(const std::vector<Pump>& running, double section_m2, double cell_m);

    double viscosity_m2_s(const Vec3& point_m) const;

  private:
    struct Mixer {
        Jet jet;
        double far_m2_s2;  ///< squared speed it could give to all of the tank
        double viscosity_m2_s;
    };
    double cell_m_;
    std::vector<Mixer> jets_;
};

}  // namespace bedshade
