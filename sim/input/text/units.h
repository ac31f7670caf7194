// Converts numbers with units to the model's own units (by udunits2).
//
// Only the readers use this: udunits2 is not thread-safe, so every call takes one lock.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace bedshade {

/// The quantity of a key, the unit the program stores it in, and the unit its messages
/// speak in.
struct Quantity {
    const char* noun;       ///< "a length"
    const char* unit;       ///< stored in, a udunits2 name
    const char* shown;      ///< the usual unit, used in messages
    double unit_per_shown;  ///< size of the shown unit in the kept one
    const char* other;      ///< another usual unit
};

inline constexpr double kRadPerDeg = 3.14159265358979323846 / 180.0;

inline constexpr Quantity kLength{"a length", "m", "cm", 0.01, "in"};
inline constexpr Quantity kSmallLength{"a length", "m", "mm", 1e-3, "in"};
inline constexpr Quantity kParticleSize{"a length", "m", "um", 1e-6, "mm"};
inline constexpr Quantity kFlow{"a flow", "m3/s", "L/h", 1.0 / 3.6e6, "gallon/h"};
inline constexpr Quantity kMass{"a mass", "kg", "g", 1e-3, "mg"};
inline constexpr Quantity kDays{"a duration", "d", "d", 1.0, "weeks"};
inline constexpr Quantity kWeeks{"a duration", "weeks", "weeks", 1.0, "d"};
inline constexpr Quantity kHours{"a duration", "h", "h", 1.0, "min"};
inline constexpr Quantity kSeconds{"a duration", "s", "s", 1.0, "min"};
inline constexpr Quantity kAngle{"an angle", "radian", "deg", kRadPerDeg, "rad"};
inline constexpr Quantity kDensity{"a density", "kg/m3", "kg/m3", 1.0, "g/cm3"};
inline constexpr Quantity kConcentration{"a mass in a volume", "kg/m3", "mg/L", 1e-3, "g/m3"};
inline constexpr Quantity kWavelength{"a wavelength", "nm", "nm", 1.0, "um"};
inline constexpr Quantity kTemperature{"a temperature", "degC", "degC", 1.0, "degF"};

/// Why a text is invalid, and what would.
struct ParseError {
    std::string what;  ///< reads on after "length of pump "x" "
    std::string help;
};

/// "24 in" in the kind's kept unit; values are finite.
std::variant<double, ParseError> read_quantity(std::string_view text, const Quantity& kind);

/// "30 25 4 cm": some numbers and one unit for them all, in the kind's kept unit.
std::variant<std::vector<double>, ParseError> read_quantities(std::string_view text,
                                                              const Quantity& kind);

}  // namespace bedshade
