// The flow report in the guides is what the program gives.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <iterator>
#include <sstream>

#include "tests/flow_report/check.h"

namespace {

using namespace bedshade::report;

std::string committed_report() {
    std::ifstream file(BEDSHADE_SOURCE_DIR "/notebooks-free-docs/flow-verification.md");
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// The cells of a table's row, without the blanks about them.
std::vector<std::string> cells_of(const std::string& row) {
    std::vector<std::string> cells;
    std::istringstream stream(row);
    for (std::string cell; std::getline(stream, cell, '|');) {
        const auto first = cell.find_first_not_of(' '), last = cell.find_last_not_of(' ');
        cells.push_back(first == std::string::npos ? "" : cell.substr(first, last - first + 1));
    }
    return cells;
}

/// Whether a row's figure is as near to that from outside as the row itself allows, by reading it.
bool row_holds(const std::vector<std::string>& cells) {
    const double found = std::stod(cells[4]);
    const auto to = cells[6].find(" to ");
    if (to != std::string::npos)
        return found >= std::stod(cells[6]) && found <= std::stod(cells[6].substr(to + 4));
    const double outside = std::stod(cells[3]), allowed = std::stod(cells[6]);
    const bool share = cells[6].find('%') != std::string::npos;
    // Figures in the file are rounded to five digits.
    const double most = share ? 0.01 * allowed * std::abs(outside) : allowed;
    return std::abs(found - outside) <= most + 1e-4 * std::abs(outside);
}

}  // namespace

TEST_CASE("the flow report of the guides has what the program gives now", "[flow][published]") {
    const std::string report = committed_report();
    for (const Section& section : quick_sections()) {
        INFO(section.title);
        for (const Check& check : section.checks) {
            INFO(check.what);
            CHECK(check.passes());
        }
        CHECK(report.find(markdown_of(section)) != std::string::npos);
    }
}

TEST_CASE("every row of the flow report is within what it allows itself", "[flow][published]") {
    std::istringstream lines(committed_report());
    int rows = 0;
    for (std::string line; std::getline(lines, line);) {
        if (line.rfind("| ", 0) != 0 || line.rfind("| quantity", 0) == 0) continue;
        const std::vector<std::string> cells = cells_of(line);
        INFO(line);
        REQUIRE(cells.size() == 7);
        CHECK(row_holds(cells));
        ++rows;
    }
    CHECK(rows > 70);
    CHECK(committed_report().find("missed") == std::string::npos);
}

TEST_CASE("a figure out of bounds is told as missed") {
    const Check off = within_share("speed", 1.0, 1.03, 0.02, "exact");
    CHECK(!off.passes());
    CHECK(markdown_of({"Jets", "", {off}}).find("**missed**") != std::string::npos);
    CHECK(within_amount("speed", 1.0, 1.03, 0.05, "own").passes());
    CHECK(!between("order", 1.5, 1.8, 2.2, "second order").passes());
}
