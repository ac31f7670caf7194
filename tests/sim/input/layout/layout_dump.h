// Every value of a layout as text, so that two layouts can be compared whole.
#pragma once

#include <string>

#include "model/reef/layout.h"

namespace bedshade {

/// Leaves out the paths of files and the taxa's own values.
std::string dump(const Layout& layout);

}  // namespace bedshade
