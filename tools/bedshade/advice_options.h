// Options that commands which run many forecasts for a piece of advice share.
#pragma once

#include <string>
#include <vector>

#include "sim/advice/season_memo.h"

#include "tools/bedshade/prepare.h"

namespace bedshade {

/// A whole number within a range; throws UsageError naming the option otherwise.
int whole_within(const Arguments& arguments, const char* option, int least, int most);
/// A number within a range, ends included.
double number_within(const Arguments& arguments, const char* option, double least, double most);
/// A length with its unit, in metres.
double length_within(const Arguments& arguments, const char* option, double least_m, double most_m);

/// --forecasts, --out, --layout and --force.
void add_advice_options(po::options_description& options, int forecasts);

/// The file that an option names, checked before anything runs; empty without it.
std::string checked_file(const Arguments& arguments, const char* option);

/// Where the advice is written to; empty where it is not asked for.
struct AdviceFiles {
    std::string change, layout;

    std::vector<std::string> names() const;
    /// "x.toml holds the change." and so on, a line each.
    std::string text() const;
};

/// The files that --out and --layout name, checked before anything runs.
AdviceFiles checked_files(const Arguments& arguments);

/// Writes them: a change, and a layout that extends the one advised on by it.
void write_files(const AdviceFiles& files, const Arguments& arguments, const Prepared& prepared,
                 const std::string& change);

/// What is kept of the seasons of this layout, by this very program: the same line, asked again
/// after it was interrupted, goes on from there. `asked`: what else they hang on; two commands at
/// once do not share a file.
SeasonMemo memo_of(const Prepared& prepared, const std::string& asked);

/// Says what becomes of an interrupted command; the code to end with.
int report_interrupted();

}  // namespace bedshade
