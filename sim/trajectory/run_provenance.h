// The provenance of a run, as stored in its trajectory.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace bedshade {

inline constexpr const char* kTrajectoryFormat = "bedshade trajectory";
inline constexpr int kTrajectoryVersion = 1;

/// Enough to run it again.
struct RunProvenance {
    std::uint64_t seed = 0;
    int members = 1;
    std::string program_version;
    std::string model_version;  ///< moves when results do
    std::string layout_text;    ///< LayoutFile::text
    std::string traits_text;    ///< LayoutFile::traits_text
};

/// The water's mean flow on a grid, once for each setting of the pumps ("state").
struct FlowSample {
    std::vector<double> x_m, y_m, z_m;  ///< of the grid's points
    int states = 1;
    std::vector<float> velocity_m_s;         ///< [state][z][y][x][3]
    std::vector<float> turbulent_speed_m_s;  ///< [state][z][y][x]

    std::size_t points() const {
        return static_cast<std::size_t>(states) * x_m.size() * y_m.size() * z_m.size();
    }
};

}  // namespace bedshade
