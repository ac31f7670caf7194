// The table of two runs compared over paired members.
#include <catch2/catch.hpp>

#include "sim/base/text.h"
#include "sim/report/comparison_report.h"

using namespace bedshade;

TEST_CASE("a long name in a table is cut between characters, not within one") {
    for (int before = 19; before <= 24; ++before) {
        PairedRuns seasons{2, {}, {}};
        PairedColony colony{std::string(static_cast<std::size_t>(before), 'a') + "äöü", {}};
        colony.difference[0] = {1.0, 0.5, 1.5};
        seasons.colonies.push_back(colony);
        const std::string text = paired_text(seasons);
        CAPTURE(before, text);
        CHECK(valid_utf8_length(text) == text.size());
        CHECK(text.find("aaaaaaaaaaaaaaaaaaa") != std::string::npos);
    }
}
