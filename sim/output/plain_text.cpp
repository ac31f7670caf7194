#include "sim/output/plain_text.h"

#include <nlohmann/json.hpp>

#include "sim/input/diagnostic.h"

namespace bedshade {
namespace {

std::string dumped(const nlohmann::ordered_json& document, int indent) {
    return document.dump(indent, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
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

std::string csv_quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : printable(text)) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + '"';
}

}  // namespace bedshade
