// The replay page without a run, as built from tools/page and compiled in.
#pragma once

#include <string_view>

namespace bedshade {

/// A whole HTML page with the marks of sim/export/replay_page.h. Throws std::runtime_error when the
/// program was built without it (BEDSHADE_PAGE=OFF).
std::string_view page_shell();

}  // namespace bedshade
