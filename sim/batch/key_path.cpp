#include "sim/batch/key_path.h"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>
#include <toml++/toml.h>

namespace bedshade {
namespace {

using Keys = std::vector<std::string>;

const std::vector<Keys>& named_lists() {
    static const std::vector<Keys> lists = {{"lamp"},       {"pump"},   {"rock"},
                                            {"inhabitant"}, {"colony"}, {"substrate", "patch"}};
    return lists;
}

/// The keys of a path; empty when a quote is not closed.
Keys split(std::string_view text) {
    Keys keys(1);
    bool quoted = false;
    for (const char c : text) {
        if (c == '"')
            quoted = !quoted;
        else if (c == '.' && !quoted)
            keys.emplace_back();
        else
            keys.back() += c;
    }
    return quoted ? Keys{} : keys;
}

std::size_t list_keys_of(const Keys& keys) {
    for (const Keys& list : named_lists())
        if (keys.size() >= list.size() && std::equal(list.begin(), list.end(), keys.begin()))
            return list.size();
    return 0;
}

bool is_bare(const std::string& key) {
    return std::all_of(key.begin(), key.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
               c == '_' || c == '-';
    });
}

std::string dotted(Keys::const_iterator begin, Keys::const_iterator end) {
    std::string text;
    for (auto key = begin; key != end; ++key)
        text += (key == begin ? "" : ".") + (is_bare(*key) ? *key : quoted_toml(*key));
    return text;
}

std::string error_about(const Keys& keys) {
    if (keys.empty()) return "a quote in it is not closed";
    if (std::any_of(keys.begin(), keys.end(), [](const auto& key) { return key.empty(); }))
        return "a key in it is empty";
    constexpr std::size_t kDeepest = 8;
    if (keys.size() > kDeepest) return "it is nested too deep";
    if (keys.front() == "action" || keys.front() == "reading")
        return fmt::format("entries of [[{}]] have no names; use a [[change]] file", keys.front());
    if (keys.front() == "extends" || keys.front() == "format")
        return fmt::format("`{}` cannot be varied", keys.front());
    const std::size_t list = list_keys_of(keys);
    if (list > 0 && keys.size() < list + 2)
        return fmt::format("write it as {}.NAME.KEY", keys[list - 1]);
    return {};
}

}  // namespace

std::optional<KeyPath> parse_key_path(std::string_view text, std::string& why) {
    Keys keys = split(text);
    why = error_about(keys);
    if (!why.empty()) return std::nullopt;
    const std::size_t list = list_keys_of(keys);
    return KeyPath{std::move(keys), list};
}

std::string quoted_toml(const std::string& text) {
    std::ostringstream out;
    out << toml::value<std::string>(text);
    return out.str();
}

std::string change_text(const KeyPath& path, const std::string& value) {
    const auto begin = path.keys.begin();
    if (path.list_keys == 0) return fmt::format("{} = {}\n", dotted(begin, path.keys.end()), value);
    const auto thing = begin + static_cast<std::ptrdiff_t>(path.list_keys);
    return fmt::format("[[{}]]\nname = {}\n{} = {}\n", dotted(begin, thing), quoted_toml(*thing),
                       dotted(thing + 1, path.keys.end()), value);
}

}  // namespace bedshade
