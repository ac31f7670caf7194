// An ensemble's flag in words.
#include "sim/report/ensemble_text.h"

#include <catch2/catch.hpp>
#include <optional>
#include <string>
#include <vector>

using namespace bedshade;

TEST_CASE("a flag of many runs is reported with its month, range and runs", "[ensemble]") {
    FlagSpread spread;
    spread.month = {14, 10, 19, 12, 15, 11, 13, 16, std::nullopt, std::nullopt};
    CHECK(month_range_text(spread) == "month 13, between 10 and 19, in 8 of 10 runs");
}

TEST_CASE("the main driver of a flag is reported, or why there is none", "[ensemble]") {
    Layout layout;
    layout.colonies.emplace_back().name = "A1";
    const auto reported = [&](int runs, const auto& month_of) {
        FlagSpread spread;
        std::vector<std::vector<double>> scores;
        for (int k = 0; k < runs; ++k) {
            spread.month.emplace_back(month_of(k));
            scores.push_back({static_cast<double>(k), (k * 7) % 5 - 2.0});
        }
        return ensemble_text(layout, {{spread}, {"growth", "light need"}, scores});
    };
    CHECK(reported(20, [](int k) { return 30 - k; })
              .find("depends most on growth (higher values make it earlier; rank correlation "
                    "-1.00), which accounts for 99 % of its spread (90 % interval: ") !=
          std::string::npos);
    CHECK(reported(21, [](int k) { return 1 + (k - 10) * (k - 10); })
              .find("depends most on growth (the direction of its effect varies), ") !=
          std::string::npos);
    CHECK(reported(20, [](int k) { return 1 + k % 2; }).find("no single quantity") !=
          std::string::npos);
    const auto one_in_six = [](int k) { return k % 6 == 3 ? std::optional(k) : std::nullopt; };
    CHECK(reported(20, one_in_six).find("too few runs raise it to say") != std::string::npos);
    CHECK(reported(4, [](int k) { return 1 + k; }).find("4 runs are too few") != std::string::npos);
    CHECK(reported(20, [](int) { return 3; }).find("'A1' too-dim: month 3, in 20 of 20 runs\n") !=
          std::string::npos);
    CHECK(ensemble_text(layout, {{}, {}, {{}, {}}}) == "None of 2 runs raises a flag.\n");
}
