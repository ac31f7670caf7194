// Reports of an arrangement as text, as JSON, and as a change file.
#pragma once

#include <string>
#include <vector>

#include "sim/arrange/arrange.h"

namespace bedshade {

/// What is moved where, what that is worth beside the layout as given and random placement, on
/// fresh members, and with finer steps.
std::string arrange_text(const Layout& layout, const ArrangeOptions& options,
                         const ArrangeAdvice& advice);

/// The same as one JSON document (format 1).
std::string arrange_json(const Layout& layout, const ArrangeOptions& options,
                         const ArrangeAdvice& advice, const std::vector<std::string>& files,
                         const std::vector<std::string>& warnings);

/// The moved colonies as a change file; a comment where none is.
std::string arrange_change(const Layout& layout, const ArrangeAdvice& advice);

/// How many fresh members are better off as arranged, and the middle one's worst margins.
struct FreshSummary {
    int better = 0, runs = 0;
    double given = 0.0, arranged = 0.0;
};
FreshSummary fresh_summary(const ArrangeAdvice& advice);

}  // namespace bedshade
