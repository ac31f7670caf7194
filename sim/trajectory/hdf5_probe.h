// Reads an untrusted file in a child process first.
#pragma once

#include <chrono>
#include <functional>

namespace bedshade {

/// Runs `read` in a child process, and throws Mismatch if that crashes. HDF5 1.10 follows string
/// addresses in a file without checking them, so a damaged file can crash the reader; screening
/// cannot find all of this, since compressed tables contain addresses too. An exception of `read`
/// is no crash: it will be thrown again.
///
/// If other threads run, the child may inherit a lock that nobody releases (the allocator's, under
/// the sanitizers of gcc 12) and then deadlock. So a child that sleeps for a whole `patience` is
/// ended and the file is read anyway; one that computes for more than 60 s counts as crashed.
void read_apart_first(const std::function<void()>& read,
                      std::chrono::milliseconds patience = std::chrono::seconds(5));

}  // namespace bedshade
