// Which program this is.
#pragma once

#include <string>

namespace bedshade {

/// Program and model version, compiler and libraries, a line each.
std::string version_text();

}  // namespace bedshade
