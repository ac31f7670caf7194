// A pump: position and direction of its nozzle, flow rate and program.
#pragma once

#include <string>

#include "model/base/geometry.h"

namespace bedshade {

enum class PumpProgram { steady, pulse, alternate };

struct Pump {
    std::string name;
    Vec3 position_m = Vec3::Zero();  ///< of the nozzle
    Vec3 direction = Vec3::UnitX();  ///< unit vector of the jet
    double nozzle_m = 0.025;         ///< diameter of the opening
    double flow_m3_s = 0.0;
    PumpProgram program = PumpProgram::steady;
    double period_s = 0.0;        ///< of a pulse or alternation
    double duty = 1.0;            ///< fraction of time it runs: 1 steady, 0.5 alternating
    std::string alternates_with;  ///< the other pump's name
};

}  // namespace bedshade
