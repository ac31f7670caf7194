// A ranking, and the CSV table of it (notebooks-free-docs/batch.md).
#pragma once

#include <string>
#include <vector>

#include "sim/batch/ranking.h"

namespace bedshade {

/// A ranking and what it is of.
struct Ranking {
    std::vector<RankedRow> rows;
    ScoreWeights weights;
    std::vector<std::string> plans;  ///< lines of plans.jsonl, sorted, each once
    std::vector<std::string> gaps;   ///< what is missing, in words
};

/// The ranking as a CSV table (RFC 4180), one row a run, best first.
std::string ranking_csv(const Ranking& ranking);

}  // namespace bedshade
