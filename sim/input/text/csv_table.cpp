#include "sim/input/text/csv_table.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "sim/base/number_text.h"
#include "sim/base/text.h"
#include "sim/input/text/text_file.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostRows = 10'000;
constexpr std::size_t kMostColumns = 100;

bool holds(const std::vector<std::string>& names, const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace

CsvTable::CsvTable(const std::filesystem::path& path, const std::vector<std::string>& required,
                   const std::vector<std::string>& optional, Diagnostics& diagnostics)
    : file_(path.string()), diagnostics_(diagnostics) {
    const auto text = read_text_file(path, {file_}, diagnostics);
    if (!text) return;
    diagnostics.remember(file_, *text);
    std::vector<Diagnostic> faults;
    std::vector<CsvRow> rows = split_csv(*text, file_, faults);
    diagnostics.adopt(faults);
    if (!faults.empty()) return;
    if (rows.size() < 2) {
        diagnostics.error(
            {file_}, "this table has no rows",
            fmt::format("its first line names the columns: {}", fmt::join(required, ",")));
        return;
    }
    if (rows.size() > kMostRows) {
        diagnostics.error({file_}, fmt::format("this table has {} rows", rows.size()),
                          fmt::format("at most {} are allowed", kMostRows));
        return;
    }
    read_header(rows.front(), required, optional);
    if (columns_.empty()) return;
    for (std::size_t r = 1; r < rows.size(); ++r) {
        if (rows[r].cells.size() == columns_.size())
            rows_.push_back(std::move(rows[r]));
        else
            diagnostics.error({file_, rows[r].line},
                              fmt::format("this row has {} cells and the header {}",
                                          rows[r].cells.size(), columns_.size()));
    }
}

void CsvTable::read_header(const CsvRow& header, const std::vector<std::string>& required,
                           const std::vector<std::string>& optional) {
    std::vector<std::string> known = required;
    known.insert(known.end(), optional.begin(), optional.end());
    // Each of them is compared with those before it.
    if (header.cells.size() > kMostColumns) {
        diagnostics_.error({file_, header.line},
                           fmt::format("this table has {} columns", header.cells.size()),
                           fmt::format("allowed: {}", fmt::join(known, ", ")));
        return;
    }
    std::vector<std::string> columns;
    bool good = true;
    const auto report_error = [&](const Place& at, std::string what, std::string help) {
        diagnostics_.error(at, std::move(what), std::move(help));
        good = false;
    };
    for (const CsvCell& cell : header.cells) {
        const Place at{file_, cell.line, cell.column};
        if (!holds(known, cell.text))
            report_error(
                at, fmt::format("'{}' is not a column of this table", escape_control(cell.text)),
                fmt::format("allowed: {}", fmt::join(known, ", ")));
        else if (holds(columns, cell.text))
            report_error(at, fmt::format("the column '{}' appears twice", cell.text), {});
        columns.push_back(cell.text);
    }
    for (const std::string& name : required)
        if (!holds(columns, name))
            report_error({file_, header.line}, fmt::format("the column '{}' is missing", name),
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
          value ? fmt::format("{} is {}, which is out of range", column, format_number(*value))
                : fmt::format("{} is '{}', but must be a number", column, escape_control(given)),
          fmt::format("allowed: {} to {}", format_number(range.low), format_number(range.high)));
    return std::nullopt;
}

void CsvTable::error(std::size_t row, std::string_view column, std::string what, std::string help) {
    const CsvCell* const found = cell(row, column);
    diagnostics_.error(
        found ? Place{file_, found->line, found->column} : Place{file_, rows_[row].line},
        std::move(what), std::move(help));
}

}  // namespace bedshade
