#include "sim/output/change_text.h"

#include <sstream>
#include <toml++/toml.h>

namespace bedshade {

std::string toml_quoted(std::string_view text) {
    const toml::value<std::string> value{std::string(text)};
    std::ostringstream written;
    // Literal and multi-line texts could not stand behind every key.
    written << toml::toml_formatter(value, toml::format_flags::none);
    return written.str();
}

}  // namespace bedshade
