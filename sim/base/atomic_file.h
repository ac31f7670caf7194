// Output files appear whole or not at all: checked before a run, grown as NAME.part, renamed last.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

namespace bedshade {

/// An output that cannot be written, reported before anything is run.
class OutputError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Throws OutputError unless a file could be written at `path`: it names a file in a folder that
/// exists and can be written to, and no file is there yet, or `force` is set and it is a plain one.
void check_output(const std::filesystem::path& path, bool force);

/// Where the file grows until it is whole: NAME.part.
std::filesystem::path part_path(const std::filesystem::path& path);

/// Clears the way for a new file at `path` by removing what a killed run left there. Throws
/// OutputError when a running process writes it, or when it cannot be removed.
void acquire(const std::filesystem::path& path);

/// Asks the disk for room by writing `bytes` zeros to a new file at `path`. Throws
/// std::runtime_error with path and reason, and leaves no file then. HDF5 1.10.8 crashes when the
/// program ends after the very first bytes of a file could not be written; asked before, it does
/// not come to that.
void preallocate(const std::filesystem::path& path, std::size_t bytes);

/// Makes the file `part` durable and gives it its final name, replacing what has that name. Throws
/// std::runtime_error with path and reason.
void commit_file(const std::filesystem::path& part, const std::filesystem::path& path);

}  // namespace bedshade
