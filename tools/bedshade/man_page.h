// The man page, section 1, from the option table.
#pragma once

#include <string>

namespace bedshade {

/// roff with the man macros: every command and option, exit status, environment, files.
std::string man_page();

}  // namespace bedshade
