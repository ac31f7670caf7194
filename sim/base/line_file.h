// A file of lines that grows at its end and survives being cut off anywhere.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

namespace bedshade {

/// One writer, any number of readers. A line is written whole or, where the disk refuses, taken
/// back; what a killed writer left of a line is cut off when the file is opened for writing again.
class LineFile {
  public:
    /// Opens or makes the file. Throws std::runtime_error with path and reason.
    explicit LineFile(std::filesystem::path path);
    ~LineFile();
    LineFile(const LineFile&) = delete;
    LineFile& operator=(const LineFile&) = delete;

    /// Takes the file for this object alone, until it is gone or its process is. False when
    /// another has it. Throws std::runtime_error where the file system keeps no locks.
    bool lock_now();
    /// The same, waiting for its turn.
    void lock();
    void unlock();
    /// Removes an incomplete last line. The caller must hold the lock.
    void mend();
    /// Writes a line; `durable`: it will survive a power cut when this returns.
    void append(std::string_view line, bool durable);
    void clear();

    /// Calls `take` with every whole line from byte `from` on; returns the byte after the last.
    std::uint64_t read(std::uint64_t from, const std::function<void(std::string_view)>& take) const;
    const std::filesystem::path& path() const { return path_; }

  private:
    [[noreturn]] void fail(const char* doing, int reason) const;
    std::uint64_t size() const;

    std::filesystem::path path_;
    int file_;
};

/// Calls `take` with every whole line of a file, without the right to write to it. Throws
/// std::runtime_error with path and reason.
void read_lines(const std::filesystem::path& path,
                const std::function<void(std::string_view)>& take);

/// Makes the names in a folder survive a power cut. Throws std::runtime_error.
void sync_folder(const std::filesystem::path& folder);

}  // namespace bedshade
