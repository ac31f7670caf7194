// A loose coral that lost its place on rock.
#pragma once

#include "model/growth/stability.h"

namespace bedshade {

struct Fall {
    int colony = -1;  ///< index into Layout::colonies
    FallCause why = FallCause::edge;
    Vec3 from_m = Vec3::Zero(), to_m = Vec3::Zero();
    int onto = -1;           ///< colony that it came down on; -1: none
    double gust_m_s = 0.0;   ///< that it stood in at the time
    double holds_m_s = 0.0;  ///< speed up to which it would have kept its place on level rock
};

}  // namespace bedshade
