#include "tools/bedshade/interrupt.h"

#include <csignal>

namespace bedshade {
namespace {

volatile std::sig_atomic_t came = 0;

void note(int signal) {
    came = 1;
    // A shell hangs up its jobs, and then the system once more as the shell ends.
    std::signal(signal, signal == SIGHUP ? SIG_IGN : SIG_DFL);
}

}  // namespace

void catch_interrupts() {
    std::signal(SIGINT, note);
    std::signal(SIGTERM, note);
    struct sigaction hangup {};
    const bool known = ::sigaction(SIGHUP, nullptr, &hangup) == 0;
    if (known && hangup.sa_handler != SIG_IGN) std::signal(SIGHUP, note);  // not under nohup
}

bool interrupted() { return came != 0; }

}  // namespace bedshade
