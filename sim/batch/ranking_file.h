// A ranking as a table that anything can read: HDF5 and CSV (notebooks-free-docs/batch.md).
#pragma once

#include <filesystem>
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

/// Writes the table whole or not at all. The same ranking gives the same bytes. Throws
/// std::runtime_error with path and reason.
void write_ranking(const std::filesystem::path& path, const Ranking& ranking);

std::string ranking_csv(const Ranking& ranking);

/// Rows and plans of a table written before. Throws std::runtime_error with path and reason.
struct RankingContents {
    std::vector<BatchRow> rows;
    std::vector<std::string> plans;
};
RankingContents read_ranking(const std::filesystem::path& path);

}  // namespace bedshade
