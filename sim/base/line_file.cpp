#include "sim/base/line_file.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <optional>
#include <stdexcept>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>
#include <vector>

#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::size_t kBlock = std::size_t{1} << 18U;

/// Longest line that is read; longer ones are skipped.
constexpr std::size_t kLongestLine = std::size_t{16} << 20U;

ssize_t read_block(int file, char* into, std::size_t count, std::uint64_t from) {
    for (;;) {
        const ssize_t got = ::pread(file, into, count, static_cast<off_t>(from));
        if (got >= 0 || errno != EINTR) return got;
    }
}

/// Hands out whole lines from byte `from` on; the byte after the last, or nothing where the file
/// cannot be read.
std::optional<std::uint64_t> lines_from(int file, std::uint64_t from,
                                        const std::function<void(std::string_view)>& take) {
    std::string held;
    std::vector<char> block(kBlock);
    std::uint64_t at = from;
    for (;;) {
        const ssize_t got = read_block(file, block.data(), block.size(), at);
        if (got < 0) return std::nullopt;
        if (got == 0) return at - held.size();
        at += static_cast<std::uint64_t>(got);
        held.append(block.data(), static_cast<std::size_t>(got));
        std::size_t begin = 0;
        for (std::size_t end; (end = held.find('\n', begin)) != std::string::npos; begin = end + 1)
            take(std::string_view(held).substr(begin, end - begin));
        held.erase(0, begin);
        if (held.size() > kLongestLine) held.clear();
    }
}

}  // namespace

LineFile::LineFile(std::filesystem::path path)
    : path_(std::move(path)),
      file_(::open(path_.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0644)) {
    if (file_ < 0) fail("open", errno);
}

LineFile::~LineFile() { ::close(file_); }

void LineFile::fail(const char* doing, int reason) const {
    throw std::runtime_error(fmt::format("cannot {} '{}': {}", doing,
                                         escape_control(path_.string()), std::strerror(reason)));
}

bool LineFile::lock_now() {
    if (::flock(file_, LOCK_EX | LOCK_NB) == 0) return true;
    if (errno != EWOULDBLOCK) fail("lock", errno);
    return false;
}

void LineFile::lock() {
    while (::flock(file_, LOCK_EX) != 0)
        if (errno != EINTR) fail("lock", errno);
}

void LineFile::unlock() { ::flock(file_, LOCK_UN); }

std::uint64_t LineFile::size() const {
    struct stat status {};
    if (::fstat(file_, &status) != 0) fail("read", errno);
    return static_cast<std::uint64_t>(status.st_size);
}

void LineFile::mend() {
    std::uint64_t end = size();
    std::vector<char> block(kBlock);
    while (end > 0) {
        const std::uint64_t from = end > kBlock ? end - kBlock : 0;
        const ssize_t got = read_block(file_, block.data(), end - from, from);
        if (got <= 0) fail("read", errno);
        const std::string_view text(block.data(), static_cast<std::size_t>(got));
        const std::size_t last = text.rfind('\n');
        end = last == std::string_view::npos ? from : from + last + 1;
        if (last != std::string_view::npos) break;
    }
    if (end != size() && ::ftruncate(file_, static_cast<off_t>(end)) != 0) fail("mend", errno);
}

void LineFile::append(std::string_view line, bool durable) {
    const std::uint64_t before = size();
    std::string text(line);
    text += '\n';
    std::size_t done = 0;
    while (done < text.size()) {
        const ssize_t written = ::write(file_, text.data() + done, text.size() - done);
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) {
            const int reason = written < 0 ? errno : ENOSPC;
            // Where even this fails, the truncated line is cut off the next time.
            if (::ftruncate(file_, static_cast<off_t>(before)) != 0) fail("write", reason);
            fail("write", reason);
        }
        done += static_cast<std::size_t>(written);
    }
    if (durable && ::fdatasync(file_) != 0) fail("write", errno);
}

void LineFile::clear() {
    if (::ftruncate(file_, 0) != 0) fail("clear", errno);
}

std::uint64_t LineFile::read(std::uint64_t from,
                             const std::function<void(std::string_view)>& take) const {
    const auto end = lines_from(file_, from, take);
    if (!end) fail("read", errno);
    return *end;
}

void read_lines(const std::filesystem::path& path,
                const std::function<void(std::string_view)>& take) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    const auto end = file >= 0 ? lines_from(file, 0, take) : std::nullopt;
    const int reason = errno;
    if (file >= 0) ::close(file);
    if (!end)
        throw std::runtime_error(fmt::format("cannot read '{}': {}", escape_control(path.string()),
                                             std::strerror(reason)));
}

void sync_folder(const std::filesystem::path& folder) {
    const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    // Some file systems cannot sync a folder and return EINVAL.
    const bool synced = file >= 0 && (::fsync(file) == 0 || errno == EINVAL);
    const int reason = errno;
    if (file >= 0) ::close(file);
    if (!synced)
        throw std::runtime_error(fmt::format("cannot write folder '{}': {}",
                                             escape_control(folder.string()),
                                             std::strerror(reason)));
}

}  // namespace bedshade
