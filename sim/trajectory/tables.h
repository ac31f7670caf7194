// The tables /flags and /events of a trajectory.
#pragma once

#include <H5Cpp.h>
#include <vector>

#include "model/reef/layout.h"

#include "sim/base/flag.h"
#include "sim/run/event.h"

namespace bedshade {

/// Makes the tables, without rows.
void create_tables(H5::H5File& file);

/// Fills a table. To be done once.
void write_flags(H5::H5File& file, CalendarDay start, const std::vector<Flag>& flags);
void write_events(H5::H5File& file, CalendarDay start, const std::vector<EventRecord>& events);

/// The rows of a table. Throws Mismatch when it is not a table that this program writes.
std::vector<Flag> read_flags(const H5::H5File& file);
std::vector<EventRecord> read_events(const H5::H5File& file);

}  // namespace bedshade
