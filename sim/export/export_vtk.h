// Months of a run for VTK and ParaView, in VTK's XML formats (Kitware, VTK File Formats;
// version 1.0 of the serial PolyData and ImageData files, which VTK 9.1 reads).
#pragma once

#include <vector>

#include "sim/export/export_csv.h"
#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// For each month corals_MM.vtp (every coral's triangles, with its number and values on each
/// triangle) and bed_MM.vti (light, drag and falling sand by cell), and run.pvd, which lists
/// them by day. Metres, z up. Throws std::out_of_range when the run does not reach a month.
void export_vtk(const Trajectory& run, const std::vector<int>& months, const ExportSink& sink);

}  // namespace bedshade
