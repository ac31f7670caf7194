// Fingerprints against the published examples.
#include "sim/base/sha256.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("SHA-256 gives the published digests") {
    // NIST, "Cryptographic Standards and Guidelines: Examples with Intermediate Values", SHA-256 of
    // "abc"; and of nothing (both from memory, and equal to sha256sum's).
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}
