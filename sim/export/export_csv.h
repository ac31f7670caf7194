// A run as tables that any spreadsheet opens.
#pragma once

#include <functional>
#include <string>

#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// Takes one file of an export: its name and its bytes.
using ExportSink = std::function<void(const std::string&, const std::string&)>;

/// colonies.csv (a row for each member, snapshot and colony in the tank), shade.csv (who takes
/// whose light), bed.csv (a row for each month and cell of the central member), flags.csv,
/// events.csv. Units are in the headings; texts are quoted as RFC 4180 says, numbers have the nine
/// digits that single precision needs.
void export_csv(const Trajectory& run, const ExportSink& sink);

}  // namespace bedshade
