// Trait tables from files, laid over the one that comes with the program.
#pragma once

#include <filesystem>
#include <vector>

#include "sim/input/text/diagnostics.h"
#include "sim/input/traits/traits_reader.h"

namespace bedshade {

/// Lays the table in a file over `traits`. What is wrong with it goes to `problems`; a file that
/// cannot be read is named at `named_at`.
void overlay_file(const std::filesystem::path& path, const Place& named_at, TraitTable& traits,
                  Diagnostics& diagnostics);

/// The built-in table with these files laid over it, in order. Throws InputError.
TraitTable traits_with(const std::vector<std::filesystem::path>& files);

}  // namespace bedshade
