// Texts as the formats that results are written in take them.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace bedshade {

/// A JSON document as it is printed: indented by two, whatever bytes its texts hold, control
/// characters as escapes, and a newline.
std::string json_text(const nlohmann::ordered_json& document);

/// The same in one line, without a newline.
std::string json_line(const nlohmann::ordered_json& document);

/// JSON that is safe inside an HTML script element, whatever its content: a `<` stands in its texts
/// only, where its escape means the same.
std::string json_in_page(const std::string& json);

/// A text as a spreadsheet may have it: control characters shown as escapes, and an apostrophe
/// before what would be taken for a formula (= + - @).
std::string csv_cell(const std::string& text);

/// The same between quotes, as a cell of a CSV table (RFC 4180).
std::string csv_quoted(const std::string& text);

}  // namespace bedshade
