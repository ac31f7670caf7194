#include "sim/trajectory/hdf5_probe.h"

#include <cerrno>
#include <csignal>
#include <ctime>
#include <fcntl.h>
#include <optional>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

extern "C" {  // which glibc 2.36 forgets in this one header
#include <sys/pidfd.h>
}

#include "sim/trajectory/hdf5_reader.h"

namespace bedshade {
namespace {

constexpr rlim_t kMostProcessor_s = 60;

/// Dies in silence, without leaving its memory behind in a file, and no later than its parent.
void be_quiet(pid_t parent) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (::getppid() != parent) ::_exit(0);  // it died before that
    for (const int signal : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT})
        std::signal(signal, SIG_DFL);
    const rlimit no_core{0, 0}, processor{kMostProcessor_s, kMostProcessor_s};
    ::setrlimit(RLIMIT_CORE, &no_core);
    ::setrlimit(RLIMIT_CPU, &processor);
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere >= 0) ::dup2(nowhere, STDERR_FILENO);
}

[[noreturn]] void read_and_end(const std::function<void()>& read, pid_t parent) {
    be_quiet(parent);
    try {
        read();
    } catch (...) {  // for the parent to read and report
    }
    ::_exit(0);
}

/// Processor time that the child has had, where it can be told; it stands still while it sleeps.
std::optional<std::chrono::nanoseconds> processor_of(pid_t child) {
    clockid_t clock{};
    timespec had{};
    if (::clock_getcpuclockid(child, &clock) != 0 || ::clock_gettime(clock, &had) != 0)
        return std::nullopt;
    return std::chrono::seconds(had.tv_sec) + std::chrono::nanoseconds(had.tv_nsec);
}

/// Waits until the child has ended (true), or has slept from one `patience` to the next.
bool ends_awake(pid_t child, std::chrono::milliseconds patience) {
    const int handle = ::pidfd_open(child, 0);
    if (handle < 0) return true;  // a kernel without them: it is waited for, whatever it does
    std::optional<std::chrono::nanoseconds> had;
    int ready = 0;
    for (bool asleep = false; ready <= 0 && !asleep;) {
        pollfd end{handle, POLLIN, 0};
        ready = ::poll(&end, 1, static_cast<int>(patience.count()));
        const auto has = processor_of(child);
        asleep = ready == 0 && has && has == had;  // an interrupted wait gives no information
        had = has;
    }
    ::close(handle);
    return ready > 0;
}

/// What asks a program to end may end the child too; the parent hears of it itself.
bool is_crash(int status) {
    if (WIFEXITED(status)) return WEXITSTATUS(status) != 0;
    const int signal = WTERMSIG(status);
    return signal != SIGINT && signal != SIGTERM && signal != SIGHUP;
}

}  // namespace

void read_apart_first(const std::function<void()>& read, std::chrono::milliseconds patience) {
    const pid_t parent = ::getpid();
    const pid_t child = ::fork();
    if (child < 0) return;  // where no process is to be had, it is read as it is
    if (child == 0) read_and_end(read, parent);
    const bool ended = ends_awake(child, patience);
    if (!ended) ::kill(child, SIGKILL);
    int status = 0;
    while (::waitpid(child, &status, 0) < 0)
        if (errno != EINTR) return;
    if (ended && is_crash(status)) throw Mismatch("it is damaged: HDF5 crashed on it");
}

}  // namespace bedshade
