// A ranking as a page for any browser: a table to sort, and a plot of one column against another.
#pragma once

#include <map>
#include <string>

#include "sim/batch/ranking_csv.h"

namespace bedshade {

/// Links to the pages of runs, by the run's key.
using RunLinks = std::map<std::string, std::string>;

/// One HTML file that needs no other. Texts of the ranking go into it as text, never as markup. A
/// row whose run has a page opens it.
std::string ranking_page(const Ranking& ranking, const RunLinks& links = {});

}  // namespace bedshade
