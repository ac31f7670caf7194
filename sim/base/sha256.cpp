#include "sim/base/sha256.h"

#include <array>
#include <fmt/core.h>
#include <openssl/evp.h>
#include <stdexcept>

namespace bedshade {

std::string sha256_hex(std::string_view text) {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned size = 0;
    if (EVP_Digest(text.data(), text.size(), digest.data(), &size, EVP_sha256(), nullptr) != 1)
        throw std::runtime_error("libcrypto has no SHA-256");
    std::string hex;
    for (unsigned i = 0; i < size; ++i) hex += fmt::format("{:02x}", digest[i]);
    return hex;
}

}  // namespace bedshade
