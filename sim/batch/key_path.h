// Where in a layout a value stands: "pump.left return.flow".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bedshade {

/// Keys from the top of a layout down. In a list of named things ([[pump]]) the second key is the
/// name of one of them.
struct KeyPath {
    std::vector<std::string> keys;
    std::size_t list_keys = 0;  ///< keys that name the list; 0 where the path leads through none

    /// The name of the thing in its list; empty where the path leads through none.
    std::string thing() const { return list_keys > 0 ? keys[list_keys] : std::string(); }
    const std::string& last() const { return keys.back(); }
};

/// Reads a path. A key with a dot is in double quotes. Nothing, and the reason in `why`,
/// when it is none.
std::optional<KeyPath> parse_key_path(std::string_view text, std::string& why);

/// A change file, as TOML text, that sets this key to `value` (TOML text of one value).
std::string change_text(const KeyPath& path, const std::string& value);

/// A text as a TOML string.
std::string quoted_toml(const std::string& text);

}  // namespace bedshade
