// Options of commands that simulate: months, seed, members.
#pragma once

#include "sim/run/checkpoint.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// Limits of a run and of an ensemble.
inline constexpr int kMostMonths = 240, kMostMembers = 1000;

/// --months and --seed.
void add_run_options(po::options_description& options);
void add_seed_option(po::options_description& options);

/// --members.
void add_members_option(po::options_description& options);

/// How many members are run; a UsageError where that is not from 1 to kMostMembers.
int members_of(const Arguments& arguments);

/// Sets the horizon where it is given; throws UsageError when it is out of range.
void set_months(Layout& layout, const Arguments& arguments);

/// --seed; where it is not given, that of the run which a checkpoint (may be null) was taken from.
std::uint64_t seed_of(const Arguments& arguments, const Checkpoint* checkpoint = nullptr);

}  // namespace bedshade
