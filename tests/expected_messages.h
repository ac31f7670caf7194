// Messages kept in files beside the faulty files that must bring them.
#pragma once

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace bedshade::test {

inline std::string text_of(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

/// Holds `message` to the text kept for `faulty`: the same name, ending in .txt. Written again when
/// BEDSHADE_REWRITE_MESSAGES is set.
inline void check_message(const std::string& message, const std::filesystem::path& faulty,
                          const std::string& level = "error") {
    const auto expected = std::filesystem::path(faulty).replace_extension(".txt");
    if (std::getenv("BEDSHADE_REWRITE_MESSAGES")) std::ofstream(expected) << message;
    INFO(faulty.filename());
    CHECK(message == text_of(expected));
    CHECK(message.find(": " + level + ": ") != std::string::npos);
}

}  // namespace bedshade::test
