// Reading a file from outside where it can do no harm first.
#pragma once

#include <functional>

namespace bedshade {

/// Reads in a process of its own, and throws Mismatch if that came to grief. HDF5 1.10 follows what
/// a file says of where its texts lie without looking whether they do, so that a damaged one can
/// end the process that reads it; no screening from outside sees all of that, since the places
/// stand in compressed tables too. What `read` throws is no grief: it will throw again.
void read_apart_first(const std::function<void()>& read);

}  // namespace bedshade
