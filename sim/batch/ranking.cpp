#include "sim/batch/ranking.h"

#include <algorithm>
#include <array>
#include <tuple>

namespace bedshade {
namespace {

struct Weight {
    const char* name;
    double ScoreWeights::*value;
};

constexpr std::array kWeights = {
    Weight{"worst", &ScoreWeights::worst}, Weight{"flags", &ScoreWeights::flags},
    Weight{"light", &ScoreWeights::light}, Weight{"sand", &ScoreWeights::sand},
    Weight{"reach", &ScoreWeights::reach}, Weight{"flow", &ScoreWeights::flow},
    Weight{"tank", &ScoreWeights::tank},   Weight{"months", &ScoreWeights::months}};

double share_without_flags(const BatchRow& row) {
    if (row.first_flag_month == 0 || row.months == 0) return 1.0;
    return static_cast<double>(row.first_flag_month - 1) / row.months;
}

/// One row a key: the one with the best outcome.
void drop_twins(std::vector<BatchRow>& rows) {
    std::stable_sort(rows.begin(), rows.end(), [](const BatchRow& a, const BatchRow& b) {
        return std::tie(a.key, a.outcome) < std::tie(b.key, b.outcome);
    });
    const auto end = std::unique(rows.begin(), rows.end(),
                                 [](const auto& a, const auto& b) { return a.key == b.key; });
    rows.erase(end, rows.end());
}

}  // namespace

std::vector<std::pair<std::string, double>> named_weights(const ScoreWeights& weights) {
    std::vector<std::pair<std::string, double>> named;
    named.reserve(std::size(kWeights));
    for (const Weight& weight : kWeights) named.emplace_back(weight.name, weights.*weight.value);
    return named;
}

bool set_weight(ScoreWeights& weights, const std::string& name, double value) {
    for (const Weight& weight : kWeights)
        if (name == weight.name) {
            weights.*weight.value = value;
            return true;
        }
    return false;
}

double score_of(const BatchRow& row, const ScoreWeights& weights) {
    return weights.worst * row.worst - weights.flags * row.flags_mean +
           weights.light * row.bed.light + weights.sand * row.bed.sand +
           weights.reach * row.bed.reach + weights.flow * row.bed.flow +
           weights.tank * row.tank_worst + weights.months * share_without_flags(row);
}

std::vector<RankedRow> ranked(std::vector<BatchRow> rows, const ScoreWeights& weights) {
    drop_twins(rows);
    std::vector<RankedRow> ranking;
    ranking.reserve(rows.size());
    for (BatchRow& row : rows) {
        const double score = row.outcome == RunOutcome::done ? score_of(row, weights) : 0.0;
        ranking.push_back({std::move(row), score});
    }
    std::stable_sort(ranking.begin(), ranking.end(), [](const RankedRow& a, const RankedRow& b) {
        return std::tuple(a.row.outcome, -a.score) < std::tuple(b.row.outcome, -b.score);
    });
    return ranking;
}

}  // namespace bedshade
