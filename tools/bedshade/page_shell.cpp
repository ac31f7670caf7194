#include "tools/bedshade/page_shell.h"

#include <stdexcept>

#ifdef BEDSHADE_HAS_PAGE
extern "C" const char bedshade_page_shell_begin[];
extern "C" const char bedshade_page_shell_end[];
#endif

namespace bedshade {

std::string_view page_shell() {
#ifdef BEDSHADE_HAS_PAGE
    return {bedshade_page_shell_begin, bedshade_page_shell_end};
#else
    throw std::runtime_error("this program was built without the replay page (BEDSHADE_PAGE=OFF)");
#endif
}

}  // namespace bedshade
