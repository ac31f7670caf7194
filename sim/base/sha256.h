// Fingerprints of texts, so that two files can be seen to come from the same layout.
#pragma once

#include <string>
#include <string_view>

namespace bedshade {

/// The SHA-256 of the bytes of `text` (FIPS 180-4), as 64 lower-case hexadecimal digits.
std::string sha256_hex(std::string_view text);

}  // namespace bedshade
