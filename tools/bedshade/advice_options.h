// Options that commands which run many forecasts for a piece of advice share.
#pragma once

#include <string>
#include <vector>

#include "sim/advice/result_cache.h"

#include "tools/bedshade/prepare.h"

namespace bedshade {

/// --forecasts, --out, --layout and --force.
void add_advice_options(po::options_description& options, int forecasts);

/// Output files of the advice; empty if not requested.
struct AdviceFiles {
    std::string change, layout;

    std::vector<std::string> names() const;
    /// "The change is in x.toml." and so on, a line each.
    std::string text() const;
};

/// The files that --out and --layout name, checked before anything runs.
AdviceFiles checked_files(const Arguments& arguments);

/// Writes them: a change, and a layout that extends the one advised on by it.
void write_files(const AdviceFiles& files, const Arguments& arguments, const Prepared& prepared,
                 const std::string& change);

/// What is kept of the runs of this layout, by this very program: the same line, asked again
/// after it was interrupted, continues from there. `asked`: what else they depend on; two commands
/// at once do not share a file.
ResultCache cache_of(const Prepared& prepared, const std::string& inputs);

/// Says what becomes of an interrupted command; the code to end with.
int report_interrupted();

}  // namespace bedshade
