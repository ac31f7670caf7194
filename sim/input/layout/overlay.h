// One layout laid over another: how `extends` and change files work.
#pragma once

#include <toml++/toml.h>

#include "sim/input/text/diagnostics.h"

namespace bedshade {

/// Lays `upper` over `lower`. Tables merge key by key; lists of named things merge by name, where
/// `remove = true` takes one away and a new name is added; readings and actions, which have no
/// names, are added; anything else is replaced. Every node keeps the place it was written at.
/// A key that is an alternative to another (watts, photon_flux) replaces it.
void overlay(toml::table& lower, toml::table&& upper, Diagnostics& diagnostics);

}  // namespace bedshade
