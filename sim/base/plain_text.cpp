#include "sim/base/plain_text.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/text.h"

namespace bedshade {
namespace {

/// The control characters that JSON lets stand, U+007F to U+009F, as escapes: a terminal may obey
/// them.
std::string without_controls(const std::string& json) {
    std::string safe;
    safe.reserve(json.size());
    for (std::size_t i = 0; i < json.size(); ++i) {
        const auto byte = static_cast<unsigned char>(json[i]);
        const auto next = static_cast<unsigned char>(i + 1 < json.size() ? json[i + 1] : 0);
        if (byte == 0x7F)
            safe += "\\u007f";
        else if (byte == 0xC2 && next >= 0x80 && next < 0xA0)
            safe += fmt::format("\\u{:04x}", static_cast<unsigned char>(json[++i]));
        else
            safe += json[i];
    }
    return safe;
}

std::string dumped(const nlohmann::ordered_json& document, int indent) {
    return without_controls(
        document.dump(indent, ' ', false, nlohmann::ordered_json::error_handler_t::replace));
}

}  // namespace

std::string json_text(const nlohmann::ordered_json& document) { return dumped(document, 2) + "\n"; }

std::string json_line(const nlohmann::ordered_json& document) { return dumped(document, -1); }

std::string json_in_page(const std::string& json) {
    std::string safe;
    safe.reserve(json.size());
    for (const char c : json)
        if (c == '<')
            safe += "\\u003c";
        else
            safe += c;
    return safe;
}

std::string csv_cell(const std::string& text) {
    constexpr std::string_view kFormulaBegins = "=+-@";
    const bool formula = !text.empty() && kFormulaBegins.find(text[0]) != std::string_view::npos;
    return fmt::format("{}{}", formula ? "'" : "", escape_control(text));
}

std::string csv_quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : csv_cell(text)) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

}  // namespace bedshade
