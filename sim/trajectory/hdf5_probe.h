// Reading a file from outside where it can do no harm first.
#pragma once

#include <chrono>
#include <functional>

namespace bedshade {

/// Reads in a process of its own, and throws Mismatch if that crashed. HDF5 1.10 follows what
/// a file says of where its texts lie without looking whether they do, so that a damaged one can
/// end the process that reads it; no screening from outside sees all of that, since the places
/// stand in compressed tables too. What `read` throws is no crash: it will throw again.
///
/// A process that other threads are running in may lend the copy a lock that nobody there gives
/// back (the allocator's, under the sanitizers of gcc 12), and the copy then sleeps for good. So
/// one that has slept from one `patience` to the next is ended, and the file read as it is; one
/// that computes on, for 60 s, has crashed.
void read_apart_first(const std::function<void()>& read,
                      std::chrono::milliseconds patience = std::chrono::seconds(5));

}  // namespace bedshade
