// Wall law: friction of a wall whose boundary layer is thinner than a cell.
#pragma once

namespace bedshade {

struct WallLaw {
    double roughness_m = 0.0;      ///< z0 of a fully rough wall; 0: a smooth one
    double viscosity_m2_s = 1e-6;  ///< molecular, of the water
};

/// Wall stress over density and speed, u*^2/u [m/s], from the speed at a distance: by the
/// logarithmic law over rough walls; over smooth ones by the 1/7 power law with its viscous
/// sublayer (Werner & Wengle 1991, 8.3 y+^(1/7) above y+ = 11.81; from memory), which needs no
/// iteration.
double wall_friction_velocity_m_s(const WallLaw& law, double speed_m_s, double distance_m);

}  // namespace bedshade
