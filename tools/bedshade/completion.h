// Completions for shells, from the option table.
#pragma once

#include <string>

namespace bedshade {

/// Scripts that complete commands, options, files by their endings, and options' words.
std::string bash_completion();
std::string zsh_completion();

}  // namespace bedshade
