// What a season that was broken off remembers, as a text of numbers: the key `memory` in `[season]`
// and in a colony's `now`. For the program, not for people; every number reads back to the same
// bits.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "model/reef/so_far.h"

namespace bedshade {

std::string memory_text(const ColonyMemory& memory);
std::string memory_text(const TankMemory& memory);

/// Nothing where the text is not such a memory: a word that is no number, a number that is none of
/// what is kept, too few of them or too many.
std::optional<ColonyMemory> colony_memory(std::string_view text);
std::optional<TankMemory> tank_memory(std::string_view text);

}  // namespace bedshade
