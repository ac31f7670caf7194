#include "sim/input/csv_table.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "sim/input/number_text.h"
#include "sim/input/text_file.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostRows = 10'000;
constexpr std::size_t kMostColumns = 100;

bool holds(const std::vector<std::string>& names, const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace

CsvTable::CsvTable(const std::filesystem::path& path, const std::vector<std::string>& required,
                   const std::vector<std::string>& optional, Problems& problems)
    : file_(path.string()), problems_(problems) {
    const auto text = read_text_file(path, {file_}, problems);
    if (!text) return;
    problems.remember(file_, *text);
    std::vector<Diagnostic> faults;
    std::vector<CsvRow> rows = split_csv(*text, file_, faults);
    problems.adopt(faults);
    if (!faults.empty()) return;
    if (rows.size() < 2) {
        problems.error(
            {file_}, "this table holds no rows",
            fmt::format("its first line names the columns: {}", fmt::join(required, ",")));
        return;
    }
    if (rows.size() > kMostRows) {
        problems.error({file_}, fmt::format("this table has {} rows", rows.size()),
                       fmt::format("at most {} are read", kMostRows));
        return;
    }
    read_header(rows.front(), required, optional);
    if (columns_.empty()) return;
    for (std::size_t r = 1; r < rows.size(); ++r) {
        if (rows[r].cells.size() == columns_.size())
            rows_.push_back(std::move(rows[r]));
        else
            problems.error({file_, rows[r].line},
                           fmt::format("this row has {} cells and the header {}",
                                       rows[r].cells.size(), columns_.size()));
    }
}

void CsvTable::read_header(const CsvRow& header, const std::vector<std::string>& required,
                           const std::vector<std::string>& optional) {
    std::vector<std::string> known = required;
    known.insert(known.end(), optional.begin(), optional.end());
    // Each of them is looked for among those before it.
    if (header.cells.size() > kMostColumns) {
        problems_.error({file_, header.line},
                        fmt::format("this table has {} columns", header.cells.size()),
                        fmt::format("known here: {}", fmt::join(known, ", ")));
        return;
    }
    std::vector<std::string> columns;
    bool good = true;
    const auto complain = [&](const Place& at, std::string what, std::string help) {
        problems_.error(at, std::move(what), std::move(help));
        good = false;
    };
    for (const CsvCell& cell : header.cells) {
        const Place at{file_, cell.line, cell.column};
        if (!holds(known, cell.text))
            complain(at, fmt::format("'{}' is no column of this table", printable(cell.text)),
                     fmt::format("known here: {}", fmt::join(known, ", ")));
        else if (holds(columns, cell.text))
            complain(at, fmt::format("the column '{}' comes twice", cell.text), {});
        columns.push_back(cell.text);
    }
    for (const std::string& name : required)
        if (!holds(columns, name))
            complain({file_, header.line}, fmt::format("the column '{}' is missing", name),
                     fmt::format("needed: {}", fmt::join(required, ", ")));
    if (good) columns_ = std::move(columns);
}

const CsvCell* CsvTable::cell(std::size_t row, std::string_view column) const {
    const auto found = std::find(columns_.begin(), columns_.end(), column);
    if (found == columns_.end()) return nullptr;
    return &rows_[row].cells[static_cast<std::size_t>(found - columns_.begin())];
}

std::string CsvTable::text(std::size_t row, std::string_view column) const {
    const CsvCell* const found = cell(row, column);
    return found ? found->text : std::string();
}

std::optional<double> CsvTable::number(std::size_t row, std::string_view column, Range range,
                                       std::optional<double> fallback) {
    const std::string given = text(row, column);
    if (given.empty() && fallback) return fallback;
    const auto value = number_in(given);
    if (value && *value >= range.low && *value <= range.high) return value;
    error(row, column,
          value ? fmt::format("{} is {}, which is out of range", column, in_figures(*value))
                : fmt::format("{} is '{}', and must be a number", column, printable(given)),
          fmt::format("allowed: {} to {}", in_figures(range.low), in_figures(range.high)));
    return std::nullopt;
}

void CsvTable::error(std::size_t row, std::string_view column, std::string what, std::string help) {
    const CsvCell* const found = cell(row, column);
    problems_.error(
        found ? Place{file_, found->line, found->column} : Place{file_, rows_[row].line},
        std::move(what), std::move(help));
}

}  // namespace bedshade
