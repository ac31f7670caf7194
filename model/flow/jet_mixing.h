// Eddy viscosity of a tank mixed by jets.
//
// The eddy viscosity of a free round jet is constant, since its speed is inversely proportional to
// its width. Its value is the one for which the exact round jet of constant viscosity (Schlichting
// 1933) decays as measured. A two-equation model would cost twice as much and makes round jets a
// third too wide (Pope 1978; from memory).
#pragma once

#include <vector>

#include "model/flow/jets.h"
#include "model/reef/pump.h"

namespace bedshade {

/// Eddy viscosity of a free round jet of this thrust over density [m2/s].
double jet_eddy_viscosity_m2_s(double kinematic_thrust_m4_s2, double spread = kNozzleJetSpread);

/// Eddy viscosity of several jets: the mean of theirs weighted by their squared speeds; far from
/// all of them, by the squared speed that each could give to the whole tank.
class JetMixing {
  public:
    /// `section_m2` is the tank's mean cross-section. Where a jet is narrower than the grid's cells
    /// its viscosity is reduced: the imposed jet has the width of a cell there and must not spread
    /// yet.
    JetMixing(const std::vector<Pump>& running, double section_m2, double cell_m);

    double viscosity_m2_s(const Vec3& point_m) const;

  private:
    struct JetViscosity {
        Jet jet;
        double far_m2_s2;  ///< squared speed it could give to all of the tank
        double viscosity_m2_s;
    };
    double cell_m_;
    std::vector<JetViscosity> jets_;
};

}  // namespace bedshade
