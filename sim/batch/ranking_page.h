// A ranking as a page for any browser: a table to sort, and a plot of one column against another.
#pragma once

#include <string>

#include "sim/batch/ranking_file.h"

namespace bedshade {

/// One HTML file that needs no other. Texts of the ranking go into it as text, never as markup.
std::string ranking_page(const Ranking& ranking);

}  // namespace bedshade
