#include "sim/advice/change_text.h"

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

std::string extending(const std::filesystem::path& path, const std::filesystem::path& base) {
    const auto folder = std::filesystem::absolute(path).parent_path();
    return "format = 1\nextends = " +
           toml_quoted(std::filesystem::proximate(base, folder).string()) + "\n";
}

}  // namespace bedshade
