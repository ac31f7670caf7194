// A lamp's colours: shares of emitters, a CSV table, or points in the layout itself.
#pragma once

#include "model/reef/lamp.h"

#include "sim/input/text/table_reader.h"

namespace bedshade {

/// Reads `spectrum`, `spectrum_file` or `spectrum_points`, at most one of them, into the lamp.
void read_spectrum(TableReader& in, Lamp& lamp);

}  // namespace bedshade
