// The columns of a ranking, once for all that write or read them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "sim/batch/ranking.h"

namespace bedshade {

/// A column of numbers. `set` is null for derived columns, which are not read back.
struct NumberColumn {
    const char* name;
    const char* long_name;
    double (*get)(const RankedRow&);
    void (*set)(BatchRow&, double);
    bool found;  ///< has a meaning only for runs that are done
};
const std::vector<NumberColumn>& number_columns();

struct TextColumn {
    const char* name;
    const char* long_name;
    std::string BatchRow::*text;
};
const std::vector<TextColumn>& text_columns();

/// Names of what was varied in any of the rows, sorted.
std::vector<std::string> setting_names(const std::vector<RankedRow>& rows);
/// The value of a setting; empty where the row has none.
std::string setting_of(const BatchRow& row, const std::string& name);

}  // namespace bedshade
