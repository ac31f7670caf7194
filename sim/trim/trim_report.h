// A plan of cuts written for a person, as JSON, and as actions to paste into a layout.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/trim/trim.h"

namespace bedshade {

/// Each cut with its month, size, area and fragments of `fragment_m` squared; how sure that is,
/// beside no cuts and cutting everything quarterly; what no cut helps.
std::string trim_text(const Layout& layout, const TrimOptions& options, const TrimAdvice& advice,
                      double fragment_m);

/// The same as one JSON document (format 1).
std::string trim_json(const Layout& layout, const TrimOptions& options, const TrimAdvice& advice,
                      double fragment_m, const std::vector<std::string>& files,
                      const std::vector<std::string>& warnings);

/// The cuts as [[action]]s of a change file; a comment where there are none.
std::string trim_change(const Layout& layout, const TrimAdvice& advice);

/// Fragments that an area gives [1], none where it is smaller than one.
int fragments_of(double cut_m2, double fragment_m);

}  // namespace bedshade
