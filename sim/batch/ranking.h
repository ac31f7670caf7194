// Which runs of a batch come out best: one score, by stated weights.
#pragma once

#include <string>
#include <vector>

#include "sim/batch/batch_row.h"

namespace bedshade {

/// What each part of a row counts for. Margins count up, flags down.
struct ScoreWeights {
    double worst = 1.0;  ///< the worst margin of any coral on the bed
    double flags = 0.1;  ///< flags of a member, each counting against it
    double light = 0.0, sand = 0.0, reach = 0.0, flow = 0.0;  ///< the worst margin of that kind
    double tank = 0.0;    ///< the worst margin of any coral in the tank
    double months = 0.0;  ///< share of the run until the first flag
};

/// Names and values, in one order: what --weight takes and tables state.
std::vector<std::pair<std::string, double>> named_weights(const ScoreWeights& weights);
/// Sets one by its name; false when there is none of that name.
bool set_weight(ScoreWeights& weights, const std::string& name, double value);

/// Only of rows that are done.
double score_of(const BatchRow& row, const ScoreWeights& weights);

struct RankedRow {
    BatchRow row;
    double score = 0.0;
};

/// Best first; rows of one score by their key; after them, by key, those that came to nothing.
/// Of several rows of one run one is kept: the one that is done, before one that was refused,
/// before one that failed.
std::vector<RankedRow> ranked(std::vector<BatchRow> rows, const ScoreWeights& weights);

}  // namespace bedshade
