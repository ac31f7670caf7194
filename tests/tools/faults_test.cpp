// What goes wrong around a running program: it is killed, its reader goes away, memory runs out.
#include <algorithm>
#include <catch2/catch.hpp>
#include <csignal>
#include <fcntl.h>
#include <fmt/format.h>
#include <thread>
#include <unistd.h>

#include "model/base/random.h"

#include "sim/trajectory/trajectory.h"

#include "tests/sim/batch/toy.h"
#include "tests/tools/program.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// The toy's month, looked at so often that a run takes about a second and flushes many times.
std::string busy_toy() {
    std::string text = kToy;
    text.replace(text.find("months = 1"), 10, "months = 12");
    text.replace(text.find("\"14 d\""), 6, "\"1 d\"");
    return text;
}

pid_t started(const std::string& layout, const std::string& out) {
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child > 0) return child;
    ::setenv("BEDSHADE_CACHE", cache().c_str(), 1);
    const int nowhere = ::open("/dev/null", O_WRONLY);
    ::dup2(nowhere, STDOUT_FILENO);
    ::dup2(nowhere, STDERR_FILENO);
    ::execl(BEDSHADE_PROGRAM, "bedshade", "forecast", layout.c_str(), "--out", out.c_str(),
            "--force", nullptr);
    ::_exit(127);
}

/// Kills a run of `layout` after that time. Says whether it was killed before its end.
bool killed_after(double wait_s, const std::string& layout, const std::string& out) {
    const pid_t child = started(layout, out);
    std::this_thread::sleep_for(std::chrono::duration<double>(wait_s));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFSIGNALED(status);
}

/// What a killed run left: nothing, a part whose every frame is a frame of the whole run, or, where
/// it was on its way out, all of them.
void check_left(const std::string& out, const Trajectory& whole) {
    const bool finished = fs::exists(out);
    if (!finished && !fs::exists(out + ".part")) return;
    const Trajectory part(finished ? out : out + ".part");
    REQUIRE(part.snapshots(0) <= whole.snapshots(0));
    REQUIRE((!finished || part.snapshots(0) == whole.snapshots(0)));
    for (int snapshot = 0; snapshot < part.snapshots(0); ++snapshot) {
        REQUIRE(part.days_d()[static_cast<std::size_t>(snapshot)] ==
                whole.days_d()[static_cast<std::size_t>(snapshot)]);
        REQUIRE(part.colonies_at(0, snapshot)[0].dli_mol_m2_d ==
                whole.colonies_at(0, snapshot)[0].dli_mol_m2_d);
        REQUIRE(part.bed_at(0, snapshot).ppfd_umol_m2_s ==
                whole.bed_at(0, snapshot).ppfd_umol_m2_s);
    }
}

/// Kills runs at random moments until `times` of them were killed before their end.
void check_kills(int times) {
    const ToyFolder folder;
    const std::string layout = folder.write("busy.toml", busy_toy()).string();
    const std::string out = (folder / "run.h5").string(),
                      whole_file = (folder / "whole.h5").string();
    const auto begun = std::chrono::steady_clock::now();
    REQUIRE(run("forecast " + layout + " --out " + whole_file).code == 0);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    const Trajectory whole(whole_file);
    RandomStream random(1, 0, Process::bioturbation, 0, 0);
    int killed = 0;
    for (int tries = 0; killed < times && tries < 10 * times; ++tries) {
        const double wait_s = took.count() * random.uniform();
        CAPTURE(wait_s, took.count());
        const bool was_killed = killed_after(wait_s, layout, out);
        check_left(out, whole);
        killed += was_killed ? 1 : 0;
        for (const char* ending : {"", ".part"}) fs::remove(out + ending);
    }
    CHECK(killed == times);
}

/// Runs a line of the shell; what it gives back.
int shell(const std::string& line) {
    const int status = std::system(line.c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace

TEST_CASE("a closed pipe ends the program silently") {
    const ToyFolder folder;
    const std::string errors = (folder / "errors").string();
    CHECK(shell("{ " BEDSHADE_PROGRAM " traits 2>" + errors + "; } | head -n 1 >/dev/null") == 0);
    CHECK(text_of(errors).empty());
}

TEST_CASE("a killed forecast leaves nothing, or a part with correct snapshots") { check_kills(5); }

TEST_CASE("a forecast killed at fifty moments", "[.][long]") { check_kills(50); }

#ifndef __SANITIZE_ADDRESS__  // which wants terabytes of address space
TEST_CASE("out of memory is one line, and leaves no partial file") {
    const ToyFolder folder;
    const std::string layout = (folder / "toy.toml").string();
    const std::string errors = (folder / "errors").string(), out = (folder / "light.csv").string();
    int failed = 0;
    for (int limit_kB = 150000; limit_kB <= 450000; limit_kB += 25000) {
        const int code =
            shell(fmt::format("ulimit -v {}; BEDSHADE_CACHE={} {} light {} --csv {} --force "
                              ">/dev/null 2>{}",
                              limit_kB, cache(), BEDSHADE_PROGRAM, layout, out, errors));
        const std::string said = text_of(errors);
        CAPTURE(limit_kB, code, said);
        // 127: the system could not even load the program.
        CHECK((code == 0 || code == 1 || code == 127));
        failed += code == 1;
        if (code == 1) {
            CHECK(said.rfind("bedshade: ", 0) == 0);
            CHECK(std::count(said.begin(), said.end(), '\n') == 1);
        }
        CHECK_FALSE(fs::exists(out + ".part"));
        if (fs::exists(out)) CHECK(text_of(out).back() == '\n');
    }
    CHECK(failed > 0);
}
#endif
