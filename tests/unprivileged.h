// What a process may do that is not root, for root may read and write anywhere.
#pragma once

#include <functional>
#include <sys/wait.h>
#include <unistd.h>

namespace bedshade::test {

/// Runs a check in a process that is nobody. True when it holds.
inline bool holds_for_nobody(const std::function<bool()>& check) {
    const pid_t child = ::fork();
    if (child == 0) {
        const bool nobody = ::geteuid() != 0 || ::setuid(65534) == 0;
        ::_exit(nobody && check() ? 0 : 1);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace bedshade::test
