// What an ensemble says, counted by hand on made-up months.
#include "sim/verdict/ensemble.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "model/base/random.h"

using namespace bedshade;

namespace {

Flag flag_of(int member, int month) {
    Flag flag;
    flag.kind = FlagKind::light_short;
    flag.member = member;
    flag.month = month;
    flag.colony = 2;
    return flag;
}

/// Ten runs, of which eight raise the flag.
FlagSpread eight_of_ten() {
    std::vector<Flag> flags;
    const int months[] = {14, 10, 19, 12, 15, 11, 13, 16};
    for (int member = 0; member < 8; ++member) flags.push_back(flag_of(member, months[member]));
    return spread_of_flags(flags, 10).at(0);
}

std::vector<std::vector<double>> sampled_scores(int members, int quantities) {
    std::vector<std::vector<double>> scores;
    for (int m = 0; m < members; ++m) {
        auto& of_member = scores.emplace_back();
        for (int q = 0; q < quantities; ++q)
            of_member.push_back(RandomStream(1, static_cast<std::uint32_t>(m), Process::traits, 0,
                                             static_cast<std::uint32_t>(q))
                                    .normal());
    }
    return scores;
}

/// Months that follow one number alone.
template <class Month>
FlagSpread months_by(const std::vector<std::vector<double>>& scores, Month month) {
    FlagSpread spread;
    for (const auto& of_member : scores) spread.month.push_back(month(of_member));
    return spread;
}

}  // namespace

TEST_CASE("flags of many members become one spread per flag and colony", "[ensemble]") {
    const FlagSpread spread = eight_of_ten();
    CHECK(spread.colony == 2);
    CHECK(spread.month.size() == 10);
    CHECK(runs_with(spread) == 8);
    Flag other = flag_of(3, 5);
    other.kind = FlagKind::starved;
    CHECK(spread_of_flags({flag_of(3, 4), other}, 4).size() == 2);
}

TEST_CASE("quantile months are over all runs, including those without the flag", "[ensemble]") {
    const FlagSpread spread = eight_of_ten();  // 10 11 12 13 14 15 16 19 never never
    CHECK(quantile_month(spread, 0.1) == 10);
    CHECK(quantile_month(spread, 0.5) == 14);
    CHECK(quantile_month(spread, 0.8) == 19);
    CHECK_FALSE(quantile_month(spread, 0.9).has_value());
    const auto probability = probability_by_month(spread, 24);
    CHECK(probability[8] == 0.0);
    CHECK(probability[9] == Approx(0.1));
    CHECK(probability[13] == Approx(0.5));
    CHECK(probability[23] == Approx(0.8));
}

TEST_CASE("the interval of a fraction is Wilson's", "[ensemble]") {
    // 8 of 10 at z = 1.645: centre (0.8 + 0.1353) / 1.2706, half 0.1926, by hand.
    const ShareInterval some = share_interval(8, 10);
    CHECK(some.low == Approx(0.5408).margin(0.002));
    CHECK(some.high == Approx(0.9314).margin(0.002));
    CHECK(share_interval(0, 10).low == 0.0);
    CHECK(share_interval(0, 10).high > 0.2);
}

TEST_CASE("rank correlation by hand", "[ensemble]") {
    CHECK(rank_correlation({1, 2, 3, 4}, {10, 20, 30, 99}) == Approx(1.0));
    CHECK(rank_correlation({1, 2, 3, 4}, {9, 7, 5, -1}) == Approx(-1.0));
    // Differences of ranks 0 1 1 0: 1 - 6 * 2 / (4 * 15).
    CHECK(rank_correlation({1, 2, 3, 4}, {1, 3, 2, 4}) == Approx(0.8));
    CHECK(rank_correlation({1, 2, 3}, {5, 5, 5}) == 0.0);
}

TEST_CASE("the one quantity that moves the month is found", "[ensemble]") {
    const auto scores = sampled_scores(64, 12);
    const FlagSpread spread = months_by(scores, [](const std::vector<double>& s) {
        const int month = 14 - static_cast<int>(4.0 * s[7]);
        return month <= 24 ? std::optional(month) : std::nullopt;
    });
    const auto driver = main_driver(spread, scores);
    REQUIRE(driver);
    CHECK(driver->quantity == 7);
    CHECK(driver->rank_correlation < -0.95);
    CHECK(driver->one_way);
    CHECK(driver->index.share > 0.9);
    CHECK(driver->index.low() > 0.8);
}

TEST_CASE("a quantity with harm at both ends is found although its rank correlation is zero",
          "[ensemble]") {
    const auto scores = sampled_scores(64, 12);
    const FlagSpread spread = months_by(scores, [](const std::vector<double>& s) {
        const int month = 20 - static_cast<int>(6.0 * std::abs(s[7]));
        return std::optional(std::max(1, month));
    });
    const auto driver = main_driver(spread, scores);
    REQUIRE(driver);
    CHECK(driver->quantity == 7);
    CHECK(std::abs(driver->rank_correlation) < 0.4);
    CHECK_FALSE(driver->one_way);
    CHECK(driver->index.low() > 0.5);
}

TEST_CASE("the driver of a rare flag is found although the other runs tie", "[ensemble]") {
    const auto scores = sampled_scores(64, 12);
    const FlagSpread spread = months_by(scores, [](const std::vector<double>& s) {
        return s[7] > 1.0 ? std::optional(10 - static_cast<int>(2.0 * s[7])) : std::nullopt;
    });
    REQUIRE(runs_with(spread) > 3);
    const auto driver = main_driver(spread, scores);
    REQUIRE(driver);
    CHECK(driver->quantity == 7);
    CHECK(driver->rank_correlation * driver->rank_correlation < 0.5);
    CHECK(driver->rank_correlation < 0.0);
    CHECK(driver->one_way);
}

TEST_CASE("no single quantity is named if many contribute, if runs are few, or by chance",
          "[ensemble]") {
    const auto scores = sampled_scores(64, 12);
    const auto shared = months_by(scores, [](const std::vector<double>& s) {
        return std::optional(14 - static_cast<int>(2.0 * (s[1] + s[2] + s[3] + s[4])));
    });
    CHECK_FALSE(main_driver(shared, scores));
    const auto by_chance = months_by(sampled_scores(64, 13), [](const std::vector<double>& s) {
        return std::optional(14 + static_cast<int>(3.0 * s[12]));
    });
    CHECK_FALSE(main_driver(by_chance, scores));
    const auto few = sampled_scores(5, 12);
    const auto alone = months_by(few, [](const std::vector<double>& s) {
        return std::optional(14 - static_cast<int>(9.0 * s[0]));
    });
    CHECK_FALSE(main_driver(alone, few));
}
