// What --help prints.
#pragma once

#include <string>

#include "tools/bedshade/arguments.h"

namespace bedshade {

/// What the program is for and its commands, a line each.
std::string overview_text();

/// One command: what it does, examples, options. Lines of 80 characters at most.
std::string help_text(const Command& command);

}  // namespace bedshade
