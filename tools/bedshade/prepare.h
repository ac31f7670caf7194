// The first steps of every command that works on a layout: read it, say what looked odd, and scale
// the lamps to the meter.
#pragma once

#include "sim/run/calibration.h"
#include "sim/run/forecast.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {

struct Prepared {
    LayoutFile file;
    Calibration calibration;

    const Layout& layout() const { return file.layout; }
    RunOptions run_options(std::uint64_t seed) const {
        return {seed, 0, calibration.output_scale, false, file.checkpoint};
    }
};

/// Reads the layout named on the command line and compares it with its readings. Warnings go to
/// standard error (not with --json, where they belong in the document, nor with --quiet).
Prepared prepare(const Arguments& arguments);

/// Refuses a layout that continues from a later day than its first, for commands that set corals
/// again or know lamps, pumps and water as they were set alone.
void require_beginning(const Layout& layout, const char* command);

/// The warnings as plain sentences, for JSON documents.
std::vector<std::string> warning_sentences(const std::vector<Diagnostic>& warnings);

}  // namespace bedshade
