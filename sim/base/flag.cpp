#include "sim/base/flag.h"

#include <cstddef>

namespace bedshade {

namespace {

constexpr std::array kFlagNames = {
    "too-dim", "too-bright", "light-short", "starved",   "buried", "flow-poor", "flow-harsh",
    "stung",   "overgrown",  "outgrown",    "irritated", "fallen", "strayed"};
static_assert(kFlagNames.size() == kFlagKinds.size());

constexpr std::array kCulpritNames = {"colony", "pump",   "inhabitant", "lamp",
                                      "water",  "action", "self"};
static_assert(kCulpritNames.size() == kCulpritKinds.size());

}  // namespace

const char* to_string(FlagKind kind) { return kFlagNames[static_cast<std::size_t>(kind)]; }

const char* to_string(CulpritKind kind) { return kCulpritNames[static_cast<std::size_t>(kind)]; }

}  // namespace bedshade
