#include "sim/input/text/toml_file.h"

#include <cctype>
#include <fmt/format.h>
#include <regex>

namespace bedshade {
namespace {

/// Keys like a.b.c nest one table a dot, and toml++ frees nested tables by recursion: without a
/// bound, a file of dots would end in a stack overflow.
constexpr int kDeepestKey = 32;

/// Walks TOML text outside its strings and comments and finds the first key with too many dots.
class DotCounter {
  public:
    explicit DotCounter(std::string_view text) : text_(text) {}

    /// Line of the first key nested too deep, or 0.
    int find() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '"' || c == '\'')
                skip_string(c);
            else if (c == '#')
                at_ = std::min(text_.find('\n', at_), text_.size());
            else
                count(c);
            if (dots_ > kDeepestKey) return line_;
        }
        return 0;
    }

  private:
    void count(char c) {
        if (c == '.') ++dots_;
        if (c == '\n') ++line_;
        if (c == '\n' || c == '=' || c == ',' || c == '{' || c == '[') dots_ = 0;
        ++at_;
    }

    void skip_string(char quote) {
        const std::string three(3, quote);
        const bool long_one = text_.substr(at_, 3) == three;
        const std::string end = long_one ? three : std::string(1, quote);
        at_ += end.size();
        while (at_ < text_.size() && text_.substr(at_, end.size()) != end) {
            if (text_[at_] == '\n' && !long_one) return;
            if (text_[at_] == '\n') ++line_;
            at_ += text_[at_] == '\\' && quote == '"' ? 2 : 1;
        }
        at_ += end.size();
    }

    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
    int dots_ = 0;
};

/// The parser's own words, without its "Error while parsing …: ".
std::string plain(std::string_view description) {
    const std::size_t colon = description.find(": ");
    if (description.rfind("Error while", 0) == 0 && colon != std::string_view::npos)
        description.remove_prefix(colon + 2);
    std::string text(description);
    if (!text.empty())
        text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
    return text;
}

std::string line_of_text(std::string_view text, int line) {
    for (; line > 1 && !text.empty(); --line)
        text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
    return std::string(text.substr(0, std::min(text.find_first_of("\r\n"), text.size())));
}

/// Help from the content of the line, for common slips that confuse the parser; empty for others.
std::string help_by_line(const std::string& line) {
    constexpr std::size_t kLongestLineMatched = 200;
    if (line.size() > kLongestLineMatched) return "";
    static const std::regex bare_unit(
        R"(=\s*([-+0-9.]+(?:\s+[-+0-9.]+)*\s*[A-Za-z%/][A-Za-z0-9/%]*)\s*$)");
    static const std::regex decimal_comma(R"(=\s*([-+]?[0-9]+),([0-9]+)\s*(?:#.*)?$)");
    static const std::regex date(R"(=\s*[0-9]{4}-[0-9])");
    std::smatch found;
    if (std::regex_search(line, found, bare_unit))
        return fmt::format("a value with a unit is written in quotes: \"{}\"", found[1].str());
    if (std::regex_search(line, found, decimal_comma))
        return fmt::format("decimals are written with a point: {}.{}", found[1].str(),
                           found[2].str());
    if (std::regex_search(line, date)) return "dates are written 2027-01-31";
    return "";
}

/// Help from the parser's message (some begin with a capital).
std::string help_by_words(std::string_view line, std::string_view description) {
    const auto says = [&](std::string_view part) {
        return description.find(part) != std::string_view::npos;
    };
    if (says("control characters") && says("U+0009"))
        return "close a text with the quote that opened it, on the same line";
    if (says("closing '}'")) return "close { with } on the same line";
    if (line.substr(0, 1) == "[" && says("xpected ']'"))
        return "close a heading with as many brackets as opened it: [tank], [[pump]]";
    if (says("annot redefine"))
        return "a key or [heading] may appear once; where several are allowed, use double "
               "brackets, [[pump]]";
    return "the rest of this file was not read";
}

/// The commonest slips have a help of their own.
std::string help_for(const std::string& line, std::string_view description) {
    const std::string help = help_by_line(line);
    return help.empty() ? help_by_words(line, description) : help;
}

}  // namespace

std::optional<toml::table> parse_toml(std::string_view text, const std::string& file,
                                      Diagnostics& diagnostics) {
    diagnostics.remember(file, text);
    if (const int line = DotCounter(text).find(); line > 0) {
        diagnostics.error({file, line, 0},
                          fmt::format("a key here is nested more than {} deep", kDeepestKey));
        return std::nullopt;
    }
    try {
        return toml::parse(text, std::string_view(file));
    } catch (const toml::parse_error& error) {
        Place place = place_of(error.source());
        place.file = file;
        diagnostics.error(place, fmt::format("this is not TOML: {}", plain(error.description())),
                          help_for(line_of_text(text, place.line), error.description()));
        return std::nullopt;
    }
}

}  // namespace bedshade
