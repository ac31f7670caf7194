// Options that commands which run many forecasts for a piece of advice share.
#pragma once

#include <string>

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// A whole number within a range; throws UsageError naming the option otherwise.
int whole_within(const Arguments& arguments, const char* option, int least, int most);
/// A number within a range, ends included.
double number_within(const Arguments& arguments, const char* option, double least, double most);
/// A length with its unit, in metres.
double length_within(const Arguments& arguments, const char* option, double least_m, double most_m);

/// --forecasts, --out and --force.
void add_advice_options(po::options_description& options, int forecasts);

/// The file --out names, checked before anything runs; empty without it.
std::string checked_out(const Arguments& arguments);

}  // namespace bedshade
