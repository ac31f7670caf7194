// Broken layouts and the whole message each must bring: layouts/NAME.toml beside layouts/NAME.txt.
// odd/ holds those that are read, but not without a warning.
//
// When a message is changed on purpose, run the tests with BEDSHADE_REWRITE_MESSAGES=1, and read
// what they wrote before you keep it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "sim/input/layout/layout_reader.h"
#include "sim/input/text/diagnostic.h"

#include "tests/expected_messages.h"

using namespace bedshade;
using namespace bedshade::test;
namespace fs = std::filesystem;

namespace {

const fs::path kLayouts = fs::path(BEDSHADE_SOURCE_DIR) / "tests/robustness/layouts";
const fs::path kOddLayouts = fs::path(BEDSHADE_SOURCE_DIR) / "tests/robustness/odd";

/// Takes the folder off every path, so that messages are the same on every machine.
std::string without_folder(std::string message, const fs::path& of) {
    const std::string folder = of.string() + "/";
    for (std::size_t at = message.find(folder); at != std::string::npos; at = message.find(folder))
        message.erase(at, folder.size());
    return message;
}

std::string message_of(const fs::path& layout) {
    try {
        read_layout(layout);
    } catch (const InputError& error) {
        return without_folder(error.what(), kLayouts);
    }
    return "read without errors\n";
}

std::string warnings_of(const fs::path& layout) {
    std::string all;
    for (const Diagnostic& warning : read_layout(layout).warnings) all += render(warning);
    return without_folder(all, kOddLayouts);
}

std::vector<fs::path> layouts_in(const fs::path& folder) {
    std::vector<fs::path> found;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".toml") found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    return found;
}

}  // namespace

TEST_CASE("every broken layout gives its expected message") {
    const auto layouts = layouts_in(kLayouts);
    REQUIRE(layouts.size() >= 100);
    for (const auto& layout : layouts) check_message(message_of(layout), layout);
}

TEST_CASE("every odd layout is read with its expected warnings") {
    const auto layouts = layouts_in(kOddLayouts);
    REQUIRE(layouts.size() >= 7);
    for (const auto& layout : layouts) check_message(warnings_of(layout), layout, "warning");
}
