#include "sim/base/text.h"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>

namespace bedshade {
namespace {

/// Length of the valid UTF-8 sequence at the start of `text`, 0 when there is none.
std::size_t utf8_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char first = byte(0);
    const std::size_t length = first < 0x80                    ? 1
                               : first >= 0xC2 && first < 0xE0 ? 2
                               : first >= 0xE0 && first < 0xF0 ? 3
                               : first >= 0xF0 && first < 0xF5 ? 4
                                                               : 0;
    if (length == 0 || length > text.size()) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(i) & 0xC0U) != 0x80U) return 0;
    return length;
}

/// U+0080 to U+009F drive terminals as the bytes below space do.
bool is_control(std::string_view character) {
    const auto first = static_cast<unsigned char>(character[0]);
    if (character.size() == 1) return first < 0x20 || first == 0x7F;
    return character.size() == 2 && first == 0xC2 &&
           static_cast<unsigned char>(character[1]) < 0xA0;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t substitute = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, substitute});
        }
    }
    return row.back();
}

}  // namespace

std::size_t shown_width(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    }));
}

std::string_view first_characters(std::string_view text, std::size_t count) {
    std::size_t length = 0;
    for (; count > 0 && length < text.size(); --count)
        length += std::max<std::size_t>(1, utf8_length(text.substr(length)));
    return text.substr(0, length);
}

std::size_t valid_utf8_length(std::string_view text) {
    std::size_t length = 0;
    while (length < text.size()) {
        const std::size_t next = utf8_length(text.substr(length));
        if (next == 0) break;
        length += next;
    }
    return length;
}

std::string escape_control(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::size_t length = utf8_length(text);
        if (length == 0 || is_control(text.substr(0, length))) {
            out += fmt::format("\\x{:02X}", static_cast<unsigned char>(text[0]));
            text.remove_prefix(1);
        } else {
            out += text.substr(0, length);
            text.remove_prefix(length);
        }
    }
    return out;
}

std::string nearest_name(std::string_view word, const std::vector<std::string>& known) {
    if (word.size() > 64) return {};
    std::string best;
    std::size_t best_distance = std::max<std::size_t>(2, word.size() / 3) + 1;
    for (const auto& name : known) {
        const std::size_t distance = edit_distance(word, name);
        if (distance < best_distance) {
            best = name;
            best_distance = distance;
        }
    }
    return best;
}

}  // namespace bedshade
