// Flags have the names of the contract, in the order in which they are stored.
#include "sim/base/flag.h"

#include <catch2/catch.hpp>
#include <string>

using namespace bedshade;

TEST_CASE("flags and culprits have the names of the contract") {
    std::string flags, culprits;
    for (const FlagKind kind : kFlagKinds) flags += std::string(to_string(kind)) + " ";
    for (const CulpritKind kind : kCulpritKinds) culprits += std::string(to_string(kind)) + " ";
    CHECK(flags ==
          "too-dim too-bright light-short starved buried flow-poor flow-harsh stung overgrown "
          "outgrown irritated fallen strayed ");
    CHECK(culprits == "colony pump inhabitant lamp water action self ");
}

TEST_CASE("the stored number of a flag is its place in the list") {
    for (std::size_t i = 0; i < kFlagKinds.size(); ++i)
        CHECK(static_cast<std::size_t>(kFlagKinds[i]) == i);
    for (std::size_t i = 0; i < kCulpritKinds.size(); ++i)
        CHECK(static_cast<std::size_t>(kCulpritKinds[i]) == i);
}
