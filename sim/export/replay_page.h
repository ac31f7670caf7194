// A run as a self-contained page for a browser.
#pragma once

#include <string>
#include <string_view>

#include "sim/trajectory/trajectory.h"

namespace bedshade {

/// Where the run goes in the page's shell, once, and its title, once (as text, not markup).
inline constexpr std::string_view kRunMark = "<!-- bedshade: run -->";
inline constexpr std::string_view kTitleMark = "<!-- bedshade: title -->";

/// The run as the page reads it: one JSON document (notebooks-free-docs/replay.md), without any
/// `<`, so that it is safe inside a script element.
///
/// The central member is shown snapshot by snapshot; of an ensemble, the spread of the others too.
/// A run of very many snapshots is thinned. Throws TrajectoryError (also when there is no snapshot
/// to show). `label` is what the run is called beside another; empty where it stands alone.
std::string replay_json(const Trajectory& run, const std::string& label = {});

/// `shell`, a whole HTML page, with the run in it. Throws std::invalid_argument when the shell has
/// not each mark exactly once.
std::string replay_page(const Trajectory& run, std::string_view shell);

/// A run and its label.
struct LabelledRun {
    const Trajectory& run;
    std::string label;
};

/// The same with a second run beside the first, shown in step with it.
std::string replay_page(const LabelledRun& first, const LabelledRun& beside,
                        std::string_view shell);

}  // namespace bedshade
