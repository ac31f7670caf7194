// Runs kept for advice that continues: the same to the last bit, whatever happened to the file.
#include "sim/advice/result_cache.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>

#include "sim/advice/result_json.h"
#include "sim/trim/trim_run_json.h"

#include "tests/tools/program.h"

using namespace bedshade;
using namespace bedshade::test;
using nlohmann::ordered_json;

namespace {

bool go_on(double /*share*/) { return true; }

/// Asks for a run that would come to `value`; says whether it had to be run.
bool has_to_run(ResultCache& cache, const std::string& called, double value) {
    bool ran = false;
    const ordered_json what = cache.recall(called, go_on, [&](const GoOn& on) {
        ran = true;
        on(0.25);
        return ordered_json{{"value", value}};
    });
    CHECK(what.at("value") == value);
    return ran;
}

std::string only_file(const Folder& folder) {
    return fs::directory_iterator(folder.file("advice"))->path().string();
}

}  // namespace

TEST_CASE("a cached run is not repeated and counts the same work") {
    const Folder folder;
    {
        ResultCache cache(folder.file("advice"), "a tank");
        CHECK(has_to_run(cache, "one", 0.1));
        CHECK(has_to_run(cache, "two", 0.2));
    }
    ResultCache cache(folder.file("advice"), "a tank");
    CHECK_FALSE(has_to_run(cache, "one", 0.1));
    CHECK(has_to_run(cache, "three", 0.3));
    double told = 0.0;
    cache.recall(
        "two", [&](double share) { return (told = share) >= 0.0; },
        [](const GoOn&) { return ordered_json(); });
    CHECK(told == 0.25);
    ResultCache other(folder.file("advice"), "another tank");
    CHECK(has_to_run(other, "one", 0.1));
    ResultCache none;
    CHECK(has_to_run(none, "one", 0.1));
}

TEST_CASE("an interrupted run is not cached") {
    const Folder folder;
    {
        ResultCache cache(folder.file("advice"), "a tank");
        cache.recall(
            "one", [](double) { return false; },
            [](const GoOn& on) {
                CHECK_FALSE(on(0.5));
                return ordered_json{{"value", 7.0}};
            });
    }
    ResultCache cache(folder.file("advice"), "a tank");
    CHECK(has_to_run(cache, "one", 0.1));
}

TEST_CASE("damaged lines of the cache are ignored") {
    const Folder folder;
    {
        ResultCache cache(folder.file("advice"), "a tank");
        for (const char* called : {"one", "two", "three"}) has_to_run(cache, called, 1.5);
    }
    const std::string whole = text_of(only_file(folder));
    const std::size_t line = whole.size() / 3;
    for (std::size_t length = 2 * line - 3; length <= 2 * line + 3; ++length) {
        write(only_file(folder), whole.substr(0, length));
        ResultCache cache(folder.file("advice"), "a tank");
        CHECK_FALSE(has_to_run(cache, "one", 1.5));
        CHECK(has_to_run(cache, "two", 1.5) == (length < 2 * line));
        CHECK(has_to_run(cache, "three", 1.5));
    }
    std::string spoilt = whole;
    spoilt[line + 70] ^= 1;
    write(only_file(folder), spoilt);
    ResultCache cache(folder.file("advice"), "a tank");
    CHECK_FALSE(has_to_run(cache, "one", 1.5));
    CHECK(has_to_run(cache, "two", 1.5));
    CHECK_FALSE(has_to_run(cache, "three", 1.5));
}

TEST_CASE("a cache file that another process writes is only read") {
    const Folder folder;
    ResultCache first(folder.file("advice"), "a tank");
    has_to_run(first, "one", 1.5);
    {
        ResultCache second(folder.file("advice"), "a tank");
        CHECK_FALSE(has_to_run(second, "one", 1.5));
        CHECK(has_to_run(second, "two", 1.5));
    }
    ResultCache third(folder.file("advice"), "a tank");
    CHECK(has_to_run(third, "two", 1.5));
}

TEST_CASE("old cache files are evicted, and an unusable folder is tolerated") {
    const Folder folder;
    for (std::size_t tank = 0; tank < ResultCache::kMostFiles + 3; ++tank) {
        ResultCache cache(folder.file("advice"), "tank " + std::to_string(tank));
        has_to_run(cache, "one", 1.5);
    }
    const auto files = std::distance(fs::directory_iterator(folder.file("advice")), {});
    CHECK(files == static_cast<std::ptrdiff_t>(ResultCache::kMostFiles));
    write(folder.file("no folder"), "");
    ResultCache cache(folder.file("no folder"), "a tank");
    CHECK(has_to_run(cache, "one", 1.5));
}

TEST_CASE("a cached result reads back bit for bit") {
    TrimRun run;
    run.member = 3;
    run.flags = {{FlagKind::starved,
                  3,
                  14,
                  400.0 + 1.0 / 3.0,
                  2,
                  CulpritKind::colony,
                  0,
                  0.1 + 0.2,
                  {{"a_cm", std::numeric_limits<double>::infinity()}, {"b", -0.0}}}};
    run.cuts = {{0, 31.0, 0.2 / 3.0, 0.1, 1e-17}};
    const auto text = [](const ordered_json& json) { return json.dump(); };
    const TrimRun read = trim_run_of(ordered_json::parse(text(json_of(run))));
    CHECK(text(json_of(read)) == text(json_of(run)));
    REQUIRE(read.flags.size() == 1);
    CHECK(read.flags[0].kind == FlagKind::starved);
    CHECK(read.flags[0].day_d == run.flags[0].day_d);
    CHECK(read.flags[0].share == run.flags[0].share);
    CHECK(read.flags[0].detail[0].second == std::numeric_limits<double>::infinity());
    CHECK(std::signbit(read.flags[0].detail[1].second));
    CHECK(read.cuts[0].before_m == run.cuts[0].before_m);
    CHECK(read.cuts[0].cut_m2 == 1e-17);

    Score score;
    score.colonies = {
        {-0.1 / 3.0, MarginKind::reach, 730.5}, {}, {-kNoLimit, MarginKind::light, 7.0}};
    score.cause_of = {1, -1, 0};
    score.end_diameter_m = {0.1, 0.2, 0.0};
    score.worst = 2;
    const Score back = score_of(ordered_json::parse(text(json_of(score))));
    CHECK(text(json_of(back)) == text(json_of(score)));
    CHECK(back.value() == -kNoLimit);
    CHECK(back.colonies[0].value == -0.1 / 3.0);
    CHECK(back.colonies[1].value == kNoLimit);
}
