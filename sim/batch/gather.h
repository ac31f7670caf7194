// Folders of batches made into one ranking.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "sim/batch/ranking_csv.h"

namespace bedshade {

/// Rows come from several versions of the model, so that they cannot be ranked together.
class MixedVersions : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Reads folders of batches, in any order and number: the same rows give the same ranking. `model`
/// leaves out the rows of every other version. Throws MixedVersions, or std::runtime_error for what
/// cannot be read.
Ranking gather(const std::vector<std::filesystem::path>& from, const ScoreWeights& weights,
               const std::optional<std::string>& model);

}  // namespace bedshade
