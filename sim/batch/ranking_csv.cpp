#include "sim/batch/ranking_csv.h"

#include <cmath>
#include <fmt/format.h>

#include "sim/base/plain_text.h"
#include "sim/batch/ranking_columns.h"

namespace bedshade {
namespace {

/// A run that was not done has no results.
double cell_of(const NumberColumn& column, const RankedRow& ranked) {
    if (column.found && ranked.row.outcome != RunOutcome::done) return std::nan("");
    return column.get(ranked);
}

}  // namespace

std::string ranking_csv(const Ranking& ranking) {
    const auto settings = setting_names(ranking.rows);
    std::string csv = "rank,outcome,layout";
    for (const std::string& name : settings) csv += ',' + csv_quoted(name);
    for (const NumberColumn& column : number_columns()) csv += fmt::format(",{}", column.name);
    csv += ",worst_of,flags,message,seed,key\n";
    std::size_t rank = 0;
    for (const RankedRow& ranked : ranking.rows) {
        const BatchRow& row = ranked.row;
        csv += fmt::format("{},{},{}", ++rank, to_string(row.outcome), csv_quoted(row.layout));
        for (const std::string& name : settings) csv += ',' + csv_quoted(setting_of(row, name));
        for (const NumberColumn& column : number_columns()) {
            const double cell = cell_of(column, ranked);
            csv += std::isnan(cell) ? std::string(",") : fmt::format(",{:.9g}", cell);
        }
        csv += fmt::format(",{},{},{},{},{}\n", csv_quoted(row.worst_of), csv_quoted(row.flags),
                           csv_quoted(row.message), row.seed, row.key);
    }
    return csv;
}

}  // namespace bedshade
