// Files that options name for what a command writes, checked before anything runs.
#pragma once

#include <filesystem>
#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// The file that an option names, if it is given. Throws OutputError where it cannot be written
/// (--force replaces one that is there), and UsageError where writing it would take away a file
/// that the command line names to be read.
std::optional<std::string> output_option(const Arguments& arguments, const char* option);
/// The same of an option that has to be given.
std::string output_needed(const Arguments& arguments, const char* option);

/// Throws UsageError where an option names for writing what a layout was read from: its traits,
/// readings, meshes, spectra and the like.
void check_spares_opened(const Arguments& arguments,
                         const std::vector<std::filesystem::path>& opened);

/// Throws UsageError where two of these options name one file.
void check_apart(const Arguments& arguments, std::initializer_list<const char*> options);

}  // namespace bedshade
