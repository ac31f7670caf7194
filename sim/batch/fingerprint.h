// Short names for everything that determines a run, worked out without reading layouts in full.
#pragma once

#include <filesystem>
#include <string>
#include <toml++/toml.h>

#include "sim/batch/study.h"

namespace bedshade {

/// SHA-256 of a layout file's keys and values, of all it extends, and of the bytes of every file
/// named in it. Comments and blanks do not matter. A file that is no TOML has one too: of its
/// bytes.
std::string layout_fingerprint(const std::filesystem::path& path);

/// SHA-256 of a change and the files it names.
std::string overlay_fingerprint(const Overlay& layer);

}  // namespace bedshade
