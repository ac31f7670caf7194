// Reads and checks the parts of a trajectory that do not change with time.
#pragma once

#include <H5Cpp.h>
#include <filesystem>
#include <string>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/reef/layout.h"

#include "sim/trajectory/colony_record.h"
#include "sim/trajectory/run_provenance.h"

namespace bedshade {

struct TrajectoryHeader {
    bool complete = false;
    std::string title;
    CalendarDay start;
    RunProvenance facts;
    std::vector<ColonyFacts> colonies;
    BedGrid bed;
};

/// Opens a trajectory for reading. Throws Mismatch when the file is none.
H5::H5File open_trajectory(const std::filesystem::path& path);

TrajectoryHeader read_header(const H5::H5File& file);

/// Whether it holds the water's flow, and that flow.
bool has_flow(const H5::H5File& file);
FlowSample read_flow(const H5::H5File& file);

}  // namespace bedshade
