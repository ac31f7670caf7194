// A terminal closed under the program: what was done is kept, and nothing is left lying about.
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <pty.h>
#include <string>
#include <thread>
#include <unistd.h>

#include "sim/trajectory/trajectory.h"

#include "tests/tools/program.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// The program on a terminal of its own.
class OnTerminal {
  public:
    explicit OnTerminal(const std::string& line) {
        program_ = ::forkpty(&terminal_, nullptr, nullptr, nullptr);
        REQUIRE(program_ >= 0);
        if (program_ == 0) {
            std::signal(SIGHUP, SIG_DFL);  // whatever these tests were started under
            ::execl("/bin/sh", "sh", "-c", line.c_str(), nullptr);
            ::_exit(127);
        }
        ::fcntl(terminal_, F_SETFL, O_NONBLOCK);
    }

    /// Reads on until the program has drawn its bar; false after two minutes.
    bool shows_a_bar() {
        std::string seen;
        for (int tick = 0; tick < 12'000 && seen.find("[=") == std::string::npos; ++tick) {
            char some[512];
            const auto count = ::read(terminal_, some, sizeof some);
            if (count > 0) seen.append(some, static_cast<std::size_t>(count));
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        return seen.find("[=") != std::string::npos;
    }

    /// Closes it and tells what the program ended with; -1 where a signal ended it.
    int code_when_closed() const {
        ::close(terminal_);
        return code_of_ended(program_);
    }

  private:
    int terminal_ = -1;
    pid_t program_ = -1;
};

std::string long_run(const std::string& words) {
    return "TERM=xterm BEDSHADE_CACHE=" + cache() +
           " exec " BEDSHADE_PROGRAM " forecast --months 240 --threads 1 " + kStarving + " " +
           words;
}

}  // namespace

TEST_CASE("a run whose terminal is closed keeps its finished part") {
    const Folder folder;
    const std::string out = folder.file("long.h5");
    OnTerminal program(long_run("--out " + out));
    REQUIRE(program.shows_a_bar());
    CHECK(program.code_when_closed() == 130);
    CHECK(Trajectory(out + ".part").snapshots(0) > 0);
    CHECK(folder.entries() == 1);
}

#ifdef BEDSHADE_HAS_PAGE
TEST_CASE("a page whose terminal is closed leaves nothing behind") {
    const Folder folder, temporary;
    OnTerminal program("TMPDIR=" + temporary.file("") + " " +
                       long_run("--page " + folder.file("long.html")));
    REQUIRE(program.shows_a_bar());
    REQUIRE(temporary.entries() == 1);
    CHECK(program.code_when_closed() == 130);
    CHECK(temporary.entries() == 0);
    CHECK(folder.entries() == 0);
}
#endif
