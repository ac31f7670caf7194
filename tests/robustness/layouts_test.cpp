// Broken layouts and the whole message each must bring: layouts/NAME.toml beside layouts/NAME.txt.
//
// When a message is changed on purpose, run the tests with BEDSHADE_REWRITE_MESSAGES=1, and read
// what they wrote before you keep it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "sim/input/layout_reader.h"

#include "tests/expected_messages.h"

using namespace bedshade;
using namespace bedshade::test;
namespace fs = std::filesystem;

namespace {

const fs::path kLayouts = fs::path(BEDSHADE_SOURCE_DIR) / "tests/robustness/layouts";

/// Takes the folder off every path, so that messages are the same on every machine.
std::string without_folder(std::string message) {
    const std::string folder = kLayouts.string() + "/";
    for (std::size_t at = message.find(folder); at != std::string::npos; at = message.find(folder))
        message.erase(at, folder.size());
    return message;
}

std::string message_of(const fs::path& layout) {
    try {
        read_layout(layout);
    } catch (const InputError& error) {
        return without_folder(error.what());
    }
    return "read without errors\n";
}

std::vector<fs::path> broken_layouts() {
    std::vector<fs::path> found;
    for (const auto& entry : fs::directory_iterator(kLayouts))
        if (entry.path().extension() == ".toml") found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    return found;
}

}  // namespace

TEST_CASE("every broken layout brings its own message") {
    const auto layouts = broken_layouts();
    REQUIRE(layouts.size() >= 60);
    for (const auto& layout : layouts) check_message(message_of(layout), layout);
}
