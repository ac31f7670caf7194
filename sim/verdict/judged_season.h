// A season run for its verdict alone: no file, no summary, as placing, trimming, arranging and
// batches want it by the hundred.
#pragma once

#include <vector>

#include "sim/verdict/margins.h"
#include "sim/verdict/season_means.h"
#include "sim/verdict/season_record.h"

namespace bedshade {

struct JudgedSeason : SeasonRecord {
    std::vector<Margins> margins;        ///< by colony
    std::vector<ColonySeason> colonies;  ///< means and ends, by colony
};

/// Runs a layout to its horizon. `also` take every frame too.
JudgedSeason judge_season(const Layout& layout, const ForecastOptions& options,
                          const ParallelFor& parallel, const GoOn& go_on,
                          const std::vector<FrameSink*>& also = {});

/// The same for the member that `options` names: what is drawn of its figures, by the same seed.
JudgedSeason judge_member(const Layout& layout, ForecastOptions options,
                          const ParallelFor& parallel, const GoOn& go_on,
                          const std::vector<FrameSink*>& also = {});

}  // namespace bedshade
