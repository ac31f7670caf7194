// What the values of one taxon must satisfy together.
#pragma once

#include <functional>
#include <string>

#include "model/reef/taxon.h"

namespace bedshade {

/// Gets the column at fault, the error and what is allowed.
using ReportTraitError = std::function<void(const std::string& column, const std::string& what,
                                            const std::string& help)>;

/// Reports every pair of values that contradict each other. Each value's own range has been
/// checked already.
void check_trait_row(const Taxon& taxon, const ReportTraitError& report_error);

}  // namespace bedshade
