// A small CSV table with a header, with access to columns by name.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/input/text/csv.h"
#include "sim/input/text/diagnostics.h"
#include "sim/input/text/table_reader.h"

namespace bedshade {

class CsvTable {
  public:
    /// Reads a file. What is wrong with it, a column that is missing, named twice or unknown, and a
    /// row of another length go to `problems`; such a table has no rows.
    CsvTable(const std::filesystem::path& path, const std::vector<std::string>& required,
             const std::vector<std::string>& optional, Diagnostics& diagnostics);

    std::size_t rows() const { return rows_.size(); }

    /// A cell's text; empty where its column is not there.
    std::string text(std::size_t row, std::string_view column) const;
    /// A number within a range; reports an error and gives nothing where it is none. An empty cell
    /// of an optional column is `fallback`.
    std::optional<double> number(std::size_t row, std::string_view column, Range range,
                                 std::optional<double> fallback = {});
    /// Reports an error at a cell.
    void error(std::size_t row, std::string_view column, std::string what, std::string help = {});

  private:
    void read_header(const CsvRow& header, const std::vector<std::string>& required,
                     const std::vector<std::string>& optional);
    const CsvCell* cell(std::size_t row, std::string_view column) const;

    std::string file_;
    Diagnostics& diagnostics_;
    std::vector<std::string> columns_;
    std::vector<CsvRow> rows_;
};

}  // namespace bedshade
