// What a action may set again of a lamp, a pump and the water: read alike in its own section and
// there.
#pragma once

#include <optional>

#include "sim/input/text/table_reader.h"

namespace bedshade {

inline constexpr Range kLampHeight{0.1, 1000.0,
                                   "height counts from the water surface up to the lamp"};
inline constexpr Range kPumpFlow{1.0, 1e6, "leave a pump that does not run out of the layout"};
inline constexpr Range kTemperatureRange{10.0, 35.0};
inline constexpr Range kYellowing{0.0, 10.0};
inline constexpr Range kTurbidity{0.0, 1000.0};
inline constexpr Range kAttenuation{0.0, 10.0};

/// The key `day` into `day`, where it may keep what the file does not say; whether it was given and
/// will do.
bool read_lamp_day(TableReader& in, LampDay& day);

/// The key `toward` as the direction of a jet from a nozzle (none: its place is not known, which
/// has been said); whether it was given and will do.
bool read_jet_aim(TableReader& in, const std::optional<Vec3>& nozzle_m, Vec3& direction, Need need);

}  // namespace bedshade
