// Ctrl-C, SIGTERM and a closed terminal: work ends in order, and at once the
// second time.
#pragma once

namespace bedshade {

/// From now on the first SIGINT, SIGTERM or SIGHUP (unless that is ignored) only sets a flag; a
/// second SIGINT or SIGTERM ends the program.
void catch_interrupts();

/// Whether one has come.
bool interrupted();

}  // namespace bedshade
