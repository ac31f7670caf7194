// Replay pages of the runs that a batch kept, for links of the ranking.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "sim/batch/ranking_page.h"

namespace bedshade {

/// Makes runs/KEY.html in those of the folders `from` that hold runs/KEY.h5 of a ranked run, where
/// it is not there yet, and returns their addresses as seen from the folder of the file `page`.
/// Tables among `from` have none.
RunLinks make_run_pages(const std::vector<std::string>& from, const Ranking& ranking,
                        const std::filesystem::path& page);

}  // namespace bedshade
