#include "tools/bedshade/interrupt.h"

#include <csignal>

namespace bedshade {
namespace {

volatile std::sig_atomic_t came = 0;

void note(int signal) {
    came = 1;
    std::signal(signal, SIG_DFL);
}

}  // namespace

void catch_interrupts() {
    std::signal(SIGINT, note);
    std::signal(SIGTERM, note);
    if (std::signal(SIGHUP, note) == SIG_IGN) std::signal(SIGHUP, SIG_IGN);  // as under nohup
}

bool interrupted() { return came != 0; }

}  // namespace bedshade
