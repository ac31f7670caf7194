// Batches as their user meets them: stopped, killed, run twice at once, on a full disk.
#include <catch2/catch.hpp>
#include <csignal>
#include <fcntl.h>
#include <nlohmann/json.hpp>
#include <random>
#include <set>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include "tests/sim/batch/toy.h"
#include "tests/tools/program.h"

namespace {

using namespace bedshade::test;

/// 3 spots by `fluxes` lamps.
std::string toys(int fluxes) {
    return "title = \"toys\"\n[[vary]]\nkey = \"lamp.lamp.photon_flux\"\nfrom = 10\nto = 60\nsteps "
           "= " +
           std::to_string(fluxes) +
           "\n[[vary]]\nkey = \"colony.disc.position\"\n"
           "values = [\"10 10 cm\", \"15 10 cm\", \"20 10 cm\"]\n";
}

/// The program in a folder, with its words and what comes before it.
class Program {
  public:
    explicit Program(const ToyFolder& folder) : folder_(folder) {}

    Ran run(const std::string& words, const std::string& wrapped = "") const {
        const int status = std::system(line(words, wrapped).c_str());
        return {code_of(status), text_of((folder_ / "out").string()),
                text_of((folder_ / "err").string())};
    }

    /// Starts the program and goes on; `wait_for` tells how it ended.
    pid_t start(const std::string& words, sighandler_t on_hangup = SIG_DFL) const {
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            std::signal(SIGHUP, on_hangup);  // whatever these tests were started under
            ::execl("/bin/sh", "sh", "-c", ("exec " + bare(words)).c_str(), nullptr);
            ::_exit(127);
        }
        return child;
    }
    static int wait_for(pid_t child) {
        int status = 0;
        ::waitpid(child, &status, 0);
        return status;
    }

    /// The CSV table of these folders.
    std::string table(const std::string& from) const {
        const Ran ran = run("gather " + from + " --force --whole --csv t.csv");
        INFO(ran.err);
        REQUIRE(ran.code == 0);
        return text_of((folder_ / "t.csv").string());
    }

  private:
    std::string bare(const std::string& words) const { return BEDSHADE_PROGRAM " " + words; }
    std::string line(const std::string& words, const std::string& wrapped) const {
        const std::string there = (folder_ / "").string();
        return "cd " + there + " && export BEDSHADE_CACHE=" + there + "cache && " + wrapped + " " +
               bare(words) + " >" + there + "out 2>" + there + "err";
    }

    const ToyFolder& folder_;
};

/// Lines of results over all files of a folder, and the keys among them.
std::pair<std::size_t, std::size_t> lines_and_keys(const fs::path& folder) {
    std::size_t lines = 0;
    std::set<std::string> keys;
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (entry.path().filename().string().rfind("results-", 0) != 0) continue;
        std::ifstream file(entry.path());
        for (std::string line; std::getline(file, line); ++lines) keys.insert(line.substr(8, 64));
    }
    return {lines, keys.size()};
}

std::size_t lines_in(const fs::path& folder) {
    return fs::exists(folder) ? lines_and_keys(folder).first : 0;
}

/// Waits until a batch that continues has so many results; false after a minute.
bool comes_to(std::size_t lines, const fs::path& folder) {
    for (int tick = 0; tick < 6000; ++tick) {
        if (lines_in(folder) >= lines) return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    return false;
}

/// Kills a batch `kills` times at random moments and lets it come to its end; checks the table.
void check_kills(int fluxes, int kills) {
    const ToyFolder folder;
    folder.study(toys(fluxes));
    const Program program(folder);
    const std::string study = (folder / "study.toml").string();
    REQUIRE(program.run("batch " + study + " --out calm --quiet --jobs 2").code == 0);
    const std::string calm = program.table("calm");
    const std::string words = "batch " + study + " --jobs 2 --quiet --out " +
                              (folder / "night").string() + " >/dev/null 2>&1";
    std::minstd_rand random(20270101);
    int killed = 0;
    for (int i = 0; i < kills; ++i) {
        const pid_t child = program.start(words);
        std::this_thread::sleep_for(std::chrono::milliseconds(5 + random() % 120));
        ::kill(child, SIGKILL);
        killed += WIFSIGNALED(Program::wait_for(child)) ? 1 : 0;
    }
    CHECK(killed > kills / 3);
    CHECK(program.run("batch " + study + " --out night --quiet --jobs 2").code == 0);
    CHECK(program.table("night") == calm);
    const auto [lines, keys] = lines_and_keys(folder / "night");
    CHECK(keys == static_cast<std::size_t>(3 * fluxes));
    CHECK(lines == keys);
}

}  // namespace

TEST_CASE("a batch runs, is resumed and is ranked, and its results have no time, host or path") {
    const ToyFolder folder;
    folder.study(toys(4));
    const Program program(folder);
    const Ran first = program.run("batch study.toml --out night");
    CHECK(first.code == 0);
    CHECK(holds(first.out, "12 of 12 runs done: 12 run now"));
    const Ran second = program.run("batch study.toml --out night --json");
    CHECK(second.code == 0);
    const auto document = nlohmann::json::parse(second.out);
    CHECK(document.at("found") == 12);
    CHECK(document.at("done") == 0);
    const Ran gathered = program.run("gather night --json --top 3 --weight light=1");
    CHECK(gathered.code == 0);
    const auto ranking = nlohmann::json::parse(gathered.out);
    CHECK(ranking.at("done") == 12);
    REQUIRE(ranking.at("top").size() == 3);
    CHECK(ranking.at("top")[0].at("settings").at("lamp.lamp.photon_flux") == "60");
    CHECK(ranking.at("top")[0].at("score") >= ranking.at("top")[1].at("score"));
    const std::string results = text_of((folder / "night/results-0001.jsonl").string());
    CHECK_FALSE(holds(results, (folder / "").string()));
    CHECK_FALSE(holds(results, "wall"));
    CHECK(holds(text_of((folder / "night/journal-0001.jsonl").string()), "\"wall_s\""));
}

TEST_CASE("a run of a batch equals a forecast of its layout") {
    const ToyFolder folder;
    folder.study("months = 3\n" + toys(3));
    const Program program(folder);
    REQUIRE(program.run("batch study.toml --out night --quiet").code == 0);
    const auto rows = nlohmann::json::parse(program.run("gather night --json").out).at("top");
    REQUIRE(rows.size() == 9);
    std::set<double> counts;
    for (const auto& row : rows) {
        const auto& settings = row.at("settings");
        folder.write("one.toml",
                     "extends = \"toy.toml\"\n[season]\nmonths = 3\n[[lamp]]\nname = \"lamp\"\n"
                     "photon_flux = " +
                         settings.at("lamp.lamp.photon_flux").get<std::string>() +
                         "\n[[colony]]\nname = \"disc\"\nposition = \"" +
                         settings.at("colony.disc.position").get<std::string>() + "\"\n");
        const auto flags =
            nlohmann::json::parse(program.run("forecast one.toml --json").out).at("flags");
        CHECK(row.at("flags_mean") == static_cast<double>(flags.size()));
        counts.insert(row.at("flags_mean").get<double>());
        for (const auto& flag : flags)
            CHECK(holds(row.at("flags").get<std::string>(),
                        flag.at("flag").get<std::string>() + " of disc in month " +
                            std::to_string(flag.at("month").get<int>())));
    }
    CHECK(counts.size() > 1);
}

TEST_CASE("any number of workers gives one table", "[threads]") {
    const ToyFolder folder;
    folder.study(toys(8) + "[[vary]]\nkey = \"season.months\"\nvalues = [1, 2]\n");
    const Program program(folder);
    std::string table;
    for (const char* jobs : {"1", "2", "8"}) {
        REQUIRE(
            program.run(std::string("batch study.toml --quiet --jobs ") + jobs + " --out j" + jobs)
                .code == 0);
        const std::string now = program.table(std::string("j") + jobs);
        CHECK((table.empty() || now == table));
        table = now;
    }
}

TEST_CASE("gathered shards give the table of the whole batch") {
    const ToyFolder folder;
    folder.study(toys(5));
    const Program program(folder);
    REQUIRE(program.run("batch study.toml --out whole --quiet").code == 0);
    for (const char* index : {"0", "1", "2", "3"}) {
        const std::string variables =
            std::string("AWS_BATCH_JOB_ARRAY_SIZE=4 AWS_BATCH_JOB_ARRAY_INDEX=") + index;
        if (*index == '3') {
            const Ran gap = program.run("gather part0 part1 part2 --whole --csv gap.csv");
            CHECK(gap.code == 1);
            CHECK(holds(gap.err, "of 4 shards were not finished: 4"));
            CHECK_FALSE(fs::exists(folder / "gap.csv"));
        }
        const Ran ran =
            program.run(std::string("batch study.toml --shard auto --out part") + index, variables);
        CHECK(ran.code == 0);
        CHECK(holds(ran.err, "by AWS_BATCH_JOB_ARRAY_INDEX"));
    }
    CHECK(program.table("part0 part1 part2 part3") == program.table("whole"));
}

TEST_CASE("a repeatedly killed batch ends with the table of an uninterrupted one") {
    check_kills(20, 8);
}

TEST_CASE("a batch of 300 runs, killed twenty times", "[.][long]") { check_kills(100, 20); }

TEST_CASE("two processes on one folder share the runs and wait for each other", "[threads]") {
    const ToyFolder folder;
    folder.study(toys(40));
    const Program program(folder);
    const std::string words = "batch " + (folder / "study.toml").string() +
                              " --jobs 1 --json --out " + (folder / "night").string();
    const pid_t one = program.start(words + " >" + (folder / "one").string());
    const pid_t two = program.start(words + " >" + (folder / "two").string());
    CHECK(code_of_ended(one) == 0);
    CHECK(code_of_ended(two) == 0);
    const auto first = nlohmann::json::parse(text_of((folder / "one").string()));
    const auto second = nlohmann::json::parse(text_of((folder / "two").string()));
    CHECK(first.at("done").get<int>() + second.at("done").get<int>() == 120);
    const auto [lines, keys] = lines_and_keys(folder / "night");
    CHECK(lines == 120);
    CHECK(keys == 120);
    REQUIRE(program.run("batch study.toml --out calm --quiet").code == 0);
    CHECK(program.table("night") == program.table("calm"));
}

TEST_CASE(
    "Ctrl-C, SIGTERM and a closed terminal end a batch within seconds, and the same command "
    "continues it") {
    const ToyFolder folder;
    folder.study("months = 240\n" + toys(20));
    const Program program(folder);
    const std::string study = (folder / "study.toml").string();
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        const std::size_t before = lines_in(folder / "night");
        const pid_t child = program.start("batch " + study + " --jobs 2 --quiet --out " +
                                          (folder / "night").string() + " >" +
                                          (folder / "told").string() + " 2>&1");
        // Not before it has begun: a busy machine may take its time to start a program.
        REQUIRE(comes_to(before + 1, folder / "night"));
        const auto start = std::chrono::steady_clock::now();
        ::kill(child, signal);
        CHECK(code_of_ended(child) == 130);
        CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(20));
        CHECK(holds(text_of((folder / "told").string()), "interrupted"));
    }
    const Ran gathered = program.run("gather night");
    CHECK(gathered.code == 0);
    CHECK(holds(gathered.err, "was not finished"));
}

TEST_CASE("a closed terminal does not end a batch under nohup") {
    const ToyFolder folder;
    folder.study("months = 24\n" + toys(6));
    const Program program(folder);
    const std::string words = "batch " + (folder / "study.toml").string() + " --quiet --out " +
                              (folder / "night").string() + " >" + (folder / "told").string();
    const pid_t child = program.start(words, SIG_IGN);
    REQUIRE(comes_to(1, folder / "night"));
    ::kill(child, SIGHUP);
    CHECK(code_of_ended(child) == 0);
    CHECK(lines_in(folder / "night") == 3 * 6);
}

TEST_CASE("a malformed layout among good ones is recorded and the others run") {
    const ToyFolder folder;
    fs::create_directory(folder / "many");
    for (const char* name : {"a.toml", "b.toml", "d.toml"})
        fs::copy_file(folder / "toy.toml", folder / (std::string("many/") + name));
    folder.write("many/c.toml", "format = 1\n[tank]\nlength = \"30\"\n");
    folder.write("many/e.toml", "format = [[[");
    folder.write("many/f.toml", bedshade::test::kToy + "[water]\ntemperature = 27\n");
    const Program program(folder);
    const Ran ran = program.run("batch many --out night");
    CHECK(ran.code == 0);
    // a, b and d are one run.
    CHECK(holds(ran.out, "6 of 6 runs done: 2 run now"));
    CHECK(holds(ran.out, "2 done before, 2 refused, 0 failed"));
    CHECK(holds(ran.out, "c.toml: "));
    CHECK(holds(ran.out, "e.toml: this is not TOML"));
    const Ran gathered = program.run("gather night");
    CHECK(holds(gathered.out, "2 runs done, 2 refused, 0 failed"));
    CHECK(program.run("batch many/c.toml --out none").code == 1);
    CHECK(program.run("batch many/missing.toml --out none").code == 2);
    CHECK(program.run("batch many/a.toml --keep some --out none").code == 2);
    CHECK(program.run("batch many/a.toml --shard 5/4 --out none").code == 2);
}

TEST_CASE("a disk error ends the batch with a clear message and keeps finished runs") {
    const ToyFolder folder;
    folder.study(toys(20));
    const Program program(folder);
    // Blocks of 512 bytes: room for some of the rows.
    const Ran full = program.run("batch study.toml --out night --quiet --jobs 2",
                                 "ulimit -f 24; trap '' XFSZ; ");
    CHECK(full.code == 1);
    CHECK(holds(full.err, "cannot write"));
    CHECK(holds(full.err, "File too large"));
    const auto [kept, keys] = lines_and_keys(folder / "night");
    CHECK((kept > 3 && kept < 60));
    CHECK(kept == keys);
    CHECK(program.run("batch study.toml --out night --quiet").code == 0);
    REQUIRE(program.run("batch study.toml --out calm --quiet").code == 0);
    CHECK(program.table("night") == program.table("calm"));
    const Ran denied = program.run("batch study.toml --out /sys/night");
    CHECK(denied.code == 2);
    CHECK(holds(denied.err, "cannot make folder"));
}

TEST_CASE("a dry run reports the number of runs and writes nothing") {
    const ToyFolder folder;
    folder.study(toys(4));
    const Program program(folder);
    const Ran ran = program.run("batch study.toml --dry-run --out night");
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "12 runs\n"));
    CHECK(holds(ran.out, "about"));
    CHECK_FALSE(fs::exists(folder / "night"));
    const auto document =
        nlohmann::json::parse(program.run("batch study.toml --dry-run --json").out);
    CHECK(document.at("runs") == 12);
    CHECK(document.at("run_s").get<double>() > 0.0);
}

TEST_CASE("an interrupted dry run reports nothing") {
    const Ran stopped = run("batch --dry-run --quiet --months 240 " + kStarving,
                            "timeout --preserve-status -s INT 1");
    CHECK(stopped.code == 130);
    CHECK(stopped.out.empty());
}

TEST_CASE("trajectories are kept for the requested runs") {
    const ToyFolder folder;
    folder.study(toys(2));
    const Program program(folder);
    CHECK(program.run("batch study.toml --out all --keep all").code == 0);
    CHECK(std::distance(fs::directory_iterator(folder / "all/runs"), {}) == 6);
    for (const auto& entry : fs::directory_iterator(folder / "all/runs")) {
        CHECK(entry.path().extension() == ".h5");
        CHECK(program.run("describe " + entry.path().string()).code == 0);
    }
    REQUIRE(program.run("batch study.toml --out none").code == 0);
    CHECK_FALSE(fs::exists(folder / "none/runs"));
    const auto best =
        nlohmann::json::parse(program.run("gather none --json --top 2").out).at("top");
    REQUIRE(program.run("batch study.toml --out none --keep 'top 2'").code == 0);
    CHECK(std::distance(fs::directory_iterator(folder / "none/runs"), {}) == 2);
    for (const auto& row : best) {
        const std::string name = "runs/" + row.at("key").get<std::string>() + ".h5";
        CHECK(text_of((folder / ("none/" + name)).string()) ==
              text_of((folder / ("all/" + name)).string()));
    }
    CHECK(program.table("all") == program.table("none"));
}

TEST_CASE("a run without a writable file fails with the reason and is tried again") {
    const ToyFolder folder;
    folder.study(toys(2));
    const Program program(folder);
    REQUIRE(program.run("batch study.toml --out night --shard 1/6").code == 0);
    folder.write("night/runs", "no folder");
    const Ran failed = program.run("batch study.toml --out night --keep all");
    CHECK(failed.code == 1);
    CHECK(holds(failed.err, "bedshade: cannot make folder"));
    CHECK(holds(failed.err, "night/runs': File exists"));
    fs::remove(folder / "night/runs");
    const Ran again = program.run("batch study.toml --out night --keep all");
    CHECK(again.code == 0);
    CHECK(holds(again.out, "0 refused, 0 failed"));
}

#ifdef BEDSHADE_HAS_PAGE
TEST_CASE("a ranking's rows open the pages of runs that were kept") {
    const ToyFolder folder;
    folder.study(toys(2));
    const Program program(folder);
    REQUIRE(program.run("batch study.toml --out night --keep 'top 2'").code == 0);
    REQUIRE(program.run("gather night --page ranking.html").code == 0);
    const std::string page = text_of((folder / "ranking.html").string());
    int pages = 0;
    for (const auto& entry : fs::directory_iterator(folder / "night/runs")) {
        if (entry.path().extension() != ".html") continue;
        ++pages;
        const std::string key = entry.path().stem().string();
        CHECK(page.find("\"" + key + "\":\"night/runs/" + key + ".html\"") != std::string::npos);
        CHECK(text_of(entry.path().string()).find("<script id=\"run\"") != std::string::npos);
    }
    CHECK(pages == 2);
}
#endif

TEST_CASE("an ensemble in every run gives the uncertainty of its rank") {
    const ToyFolder folder;
    folder.study("members = 5\n" + toys(2));
    const Program program(folder);
    REQUIRE(program.run("batch study.toml --out night --quiet").code == 0);
    const Ran gathered = program.run("gather night --top 1");
    CHECK(holds(gathered.out, "in 80 % of the members"));
    CHECK(holds(gathered.out, "of 5 raise a flag"));
}
