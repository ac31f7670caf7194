// A batch's folder: claims that die with their process, lines truncated off anywhere, tables and
// back.
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include "sim/base/atomic_file.h"
#include "sim/base/line_file.h"
#include "sim/batch/batch_folder.h"
#include "sim/batch/gather.h"
#include "sim/batch/ranking_page.h"

#include "tests/expected_messages.h"
#include "toy.h"

using namespace bedshade;
using bedshade::test::text_of;
using bedshade::test::ToyFolder;

namespace {

std::string key_of(int number) {
    std::string key(kKeyDigits, '0');
    const std::string digits = std::to_string(number);
    // Keys differ in their first half, as hashes do.
    key.replace(8 - digits.size(), digits.size(), digits);
    return key;
}

BatchRow row_of(int number) {
    BatchRow row;
    row.key = key_of(number);
    row.program = "0";
    row.model = "1";
    row.layout = "toy, \"the\" one.toml";
    row.settings = {{"spot", std::to_string(number)}, {"flow", "-3 L/h"}};
    row.months = 24;
    row.members = 3;
    row.seed = 18'000'000'000'000'000'001U;
    row.bed = {0.1 * number, 1.0 / 3.0, -0.2, kMostMargin};
    row.worst = 0.1 * number;
    row.worst_low = -0.3;
    row.worst_high = 0.7;
    row.worst_of = "light of disc";
    row.tank_worst = -0.5;
    row.flags_mean = 2.0 / 3.0;
    row.members_flagged = 1;
    row.first_flag_month = 7;
    row.flags = "starved of disc in month 7";
    return row;
}

BatchRow refused_row(int number) {
    BatchRow row;
    row.key = key_of(number);
    row.outcome = RunOutcome::refused;
    row.message = "colony \"disc\" lies outside";
    row.program = "0";
    row.model = "1";
    return row;
}

/// Runs `work` in a process of its own that is then killed without warning.
void in_killed_process(const std::function<void()>& work) {
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        try {
            work();
        } catch (...) {
            ::_exit(1);
        }
        ::raise(SIGKILL);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    REQUIRE((WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL));
}

}  // namespace

TEST_CASE("a row reads back from its line") {
    for (const BatchRow& row : {row_of(3), refused_row(4)}) {
        const std::string line = row_json(row);
        CHECK(line.find('\n') == std::string::npos);
        const auto read = row_from_json(line);
        REQUIRE(read);
        CHECK(*read == row);
        const auto head = row_head(line);
        REQUIRE(head);
        CHECK(head->key == row.key);
        CHECK(head->outcome == row.outcome);
    }
    const std::string line = row_json(row_of(3));
    for (std::size_t length = 0; length < line.size(); ++length)
        CHECK_FALSE(row_from_json(line.substr(0, length)));
    CHECK_FALSE(row_head(R"({"key":"12","outcome":"done"})"));
}

TEST_CASE("a run is claimed once, and its record is visible to later processes") {
    const ToyFolder folder;
    {
        BatchFolder first(folder / "night");
        CHECK(first.take(key_of(1)) == BatchFolder::Claim::mine);
        CHECK(first.take(key_of(1)) == BatchFolder::Claim::taken);
        BatchFolder second(folder / "night");
        CHECK(second.take(key_of(1)) == BatchFolder::Claim::elsewhere);
        CHECK(second.take(key_of(2)) == BatchFolder::Claim::mine);
        CHECK(first.take(key_of(2)) == BatchFolder::Claim::elsewhere);
        first.record(row_of(1), {});
        second.refresh();
        CHECK(second.take(key_of(1)) == BatchFolder::Claim::done);
        second.record(refused_row(2), {});
    }
    BatchFolder later(folder / "night");
    CHECK(later.take(key_of(1)) == BatchFolder::Claim::done);
    CHECK(later.take(key_of(2)) == BatchFolder::Claim::refused);
    CHECK(finished_runs(folder / "night") == 2);
}

TEST_CASE("the claims of a killed process are free, its records are done") {
    const ToyFolder folder;
    BatchFolder living(folder / "night");
    in_killed_process([&] {
        BatchFolder killed(folder / "night");
        killed.take(key_of(1));
        killed.take(key_of(2));
        killed.record(row_of(1), {});
    });
    CHECK(living.take(key_of(1)) == BatchFolder::Claim::done);
    CHECK(living.take(key_of(2)) == BatchFolder::Claim::mine);
    // Another takes over the dead one's files.
    in_killed_process([&] {
        BatchFolder killed(folder / "night");
        if (killed.take(key_of(2)) != BatchFolder::Claim::elsewhere) ::_exit(2);
        killed.take(key_of(3));
        killed.record(row_of(3), {});
    });
    CHECK(result_files(folder / "night").size() == 2);
    CHECK(living.take(key_of(3)) == BatchFolder::Claim::done);
}

TEST_CASE("the claims of a killed process are free for the process that takes over its files") {
    const ToyFolder folder;
    BatchFolder living(folder / "night");
    in_killed_process([&] { BatchFolder(folder / "night").take(key_of(5)); });
    BatchFolder heir(folder / "night");
    CHECK(result_files(folder / "night").size() == 2);
    CHECK(heir.take(key_of(5)) == BatchFolder::Claim::mine);
    CHECK(living.take(key_of(5)) == BatchFolder::Claim::elsewhere);
}

TEST_CASE("a failed run is tried again, and its success counts") {
    const ToyFolder folder;
    BatchRow failed = row_of(1);
    failed.outcome = RunOutcome::failed;
    failed.message = "out of memory";
    {
        BatchFolder first(folder / "night");
        first.take(key_of(1));
        first.record(failed, {});
        CHECK(first.take(key_of(1)) == BatchFolder::Claim::taken);
    }
    BatchFolder second(folder / "night");
    CHECK(second.take(key_of(1)) == BatchFolder::Claim::mine);
    second.record(row_of(1), {});
    const Ranking ranking = gather({folder / "night"}, {}, {});
    REQUIRE(ranking.rows.size() == 1);
    CHECK(ranking.rows[0].row == row_of(1));
}

TEST_CASE("truncated results are read up to the damage and continued") {
    const ToyFolder folder;
    {
        BatchFolder first(folder / "night");
        for (int i = 1; i <= 2; ++i) {
            first.take(key_of(i));
            first.record(row_of(i), {});
        }
    }
    const auto file = result_files(folder / "night").at(0);
    const std::string whole = text_of(file.string());
    const std::size_t first_line = whole.find('\n') + 1;
    for (std::size_t cut = 0; cut < whole.size(); cut += 23) {
        std::ofstream(file, std::ios::trunc | std::ios::binary) << whole.substr(0, cut);
        CHECK(gather({folder / "night"}, {}, {}).rows.size() == (cut >= first_line ? 1U : 0U));
        BatchFolder again(folder / "night");
        CHECK(again.take(key_of(1)) ==
              (cut >= first_line ? BatchFolder::Claim::done : BatchFolder::Claim::mine));
        again.record(row_of(2), {});
        CHECK(text_of(file.string()) == (cut >= first_line ? whole : whole.substr(first_line)));
    }
}

TEST_CASE("a folder with other content is refused") {
    const ToyFolder folder;
    CHECK_THROWS_AS(BatchFolder(folder / ""), OutputError);
    CHECK_THROWS_AS(BatchFolder(folder / "toy.toml"), OutputError);
    CHECK_THROWS_AS(BatchFolder(folder / "none" / "night"), OutputError);
    CHECK_THROWS_AS(BatchFolder("/sys/night"), OutputError);
    CHECK_THROWS_WITH(BatchFolder(folder / ""),
                      Catch::Contains("is not empty and not a batch folder"));
    CHECK(std::distance(std::filesystem::directory_iterator(folder / ""), {}) == 1);
}

TEST_CASE("obstacles in a batch folder are reported") {
    const ToyFolder folder;
    BatchFolder night(folder / "night");
    folder.write("night/runs", "no folder");
    CHECK_THROWS_WITH(night.run_file(key_of(1)),
                      Catch::Contains("cannot make folder") && Catch::Contains("night/runs'"));
    std::filesystem::create_directories(folder / "evening/claims");
    folder.write("evening/batch.json", text_of((folder / "night/batch.json").string()));
    CHECK_THROWS_AS(BatchFolder(folder / "evening"), OutputError);
    CHECK_THROWS_WITH(BatchFolder(folder / "evening"), Catch::Contains("claims'"));
    CHECK_THROWS_WITH(sync_folder(folder / "none"), Catch::Contains("cannot write folder"));
}

TEST_CASE("unreadable results are counted or reported") {
    const ToyFolder folder;
    {
        BatchFolder night(folder / "night");
        night.record(row_of(1), {});
    }
    const auto file = result_files(folder / "night").at(0);
    std::ofstream(file, std::ios::app) << "{}\n";
    const auto gaps = [&] { return gather({folder / "night"}, {}, {}).gaps; };
    CHECK(gaps() == std::vector<std::string>{"1 line of results cannot be read"});
    std::ofstream(file, std::ios::app) << "[\n";
    CHECK(gaps() == std::vector<std::string>{"2 lines of results cannot be read"});
    std::filesystem::remove(file);
    std::filesystem::create_directory(file);
    CHECK_THROWS_WITH(
        gaps(), Catch::Contains("cannot read '") && Catch::Contains("0001.jsonl': Is a directory"));
}

TEST_CASE("gathering in parts, in any order, gives the same table") {
    const ToyFolder folder;
    for (int part = 0; part < 3; ++part) {
        BatchFolder night(folder / ("night" + std::to_string(part)));
        const PlanFacts plan{
            std::string(64, 'a'), "toys", 9, {static_cast<std::uint64_t>(part) + 1, 3}};
        night.note_begun(plan);
        for (int i = 0; i < 4; ++i) {
            const int number = 3 * part + i;  // neighbours share a run
            night.take(key_of(number));
            night.record(number == 5 ? refused_row(number) : row_of(number), {});
        }
        if (part != 1) night.note_finished(plan);
    }
    const auto ranking_of = [&](const std::vector<std::string>& from) {
        std::vector<std::filesystem::path> paths;
        for (const auto& each : from) paths.push_back(folder / each);
        return gather(paths, {}, {});
    };
    const Ranking all = ranking_of({"night0", "night1", "night2"});
    CHECK(all.rows.size() == 10);
    REQUIRE(all.gaps.size() == 1);
    CHECK(all.gaps[0] == "in 'toys' (9 runs), these of 3 shards were not finished: 2");
    CHECK(all.rows[0].row == row_of(9));
    CHECK(all.rows.back().row == refused_row(5));
    const Ranking again = ranking_of({"night2", "night1", "night0", "night1"});
    CHECK(ranking_csv(again) == ranking_csv(all));
}

TEST_CASE("weights decide the ranking") {
    BatchRow dim = row_of(1), crowded = row_of(2);
    dim.bed.light = -1.0;
    dim.worst = -0.2;
    crowded.bed.light = 1.0;
    crowded.worst = -0.6;
    CHECK(ranked({crowded, dim}, {})[0].row == dim);
    ScoreWeights light;
    CHECK(set_weight(light, "worst", 0.0));
    CHECK(set_weight(light, "light", 1.0));
    CHECK_FALSE(set_weight(light, "colour", 1.0));
    const auto by_light = ranked({dim, crowded}, light);
    CHECK(by_light[0].row == crowded);
    CHECK(by_light[0].score == Approx(1.0 - 0.1 * 2.0 / 3.0));
}

TEST_CASE("the page has every row, and escapes all names") {
    BatchRow odd = row_of(1);
    odd.layout = "</script><b>";
    odd.settings = {{"<i>", "<u>"}};
    Ranking ranking;
    ranking.rows = ranked({odd, refused_row(2)}, {});
    const std::string page = ranking_page(ranking);
    CHECK(page.find(key_of(1)) != std::string::npos);
    CHECK(page.find(key_of(2)) != std::string::npos);
    CHECK(page.find("<b>") == std::string::npos);
    CHECK(page.find("<i>") == std::string::npos);
    CHECK(page.find("\\u003c/script>") != std::string::npos);
}

TEST_CASE("runs of two versions of the model are not ranked together") {
    const ToyFolder folder;
    {
        BatchFolder night(folder / "night");
        BatchRow newer = row_of(2);
        newer.model = "2";
        night.record(row_of(1), {});
        night.record(newer, {});
    }
    CHECK_THROWS_WITH(gather({folder / "night"}, {}, {}), Catch::Contains("(1, 2)"));
    CHECK(gather({folder / "night"}, {}, "2").rows.size() == 1);
}
