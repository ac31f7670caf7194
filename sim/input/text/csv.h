// Comma-separated tables (RFC 4180): text in, cells with their places out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/input/text/diagnostic.h"

namespace bedshade {

struct CsvCell {
    std::string text;  ///< unquoted, outer blanks removed unless they were quoted
    int line = 0;      ///< where the cell starts, from 1
    int column = 0;    ///< byte of that line, from 1
};

struct CsvRow {
    int line = 0;  ///< where the row starts, from 1
    std::vector<CsvCell> cells;
};

/// Cuts CSV text into rows and cells: commas between cells, `"` around cells that hold commas,
/// quotes (doubled) or line breaks; LF, CRLF or CR end a row; a byte order mark and empty lines are
/// passed over. What cannot be read is added to `problems` with `file` as its name, and reading
/// continues with the next row where there is one.
std::vector<CsvRow> split_csv(std::string_view text, const std::string& file,
                              std::vector<Diagnostic>& diagnostics);

/// Line `line` (from 1) of a text, without its line break; empty when there is none.
std::string_view line_of(std::string_view text, int line);

}  // namespace bedshade
