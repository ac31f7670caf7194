#include "sim/base/atomic_file.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/core.h>
#include <fstream>
#include <sys/file.h>
#include <system_error>
#include <unistd.h>

#include "sim/base/text.h"

namespace bedshade {

namespace fs = std::filesystem;

namespace {

std::string shown(const fs::path& path) {
    return fmt::format("'{}'", escape_control(path.string()));
}

/// A file descriptor that closes itself.
class Descriptor {
  public:
    Descriptor(const fs::path& path, int flags)
        : number_(::open(path.c_str(), flags | O_CLOEXEC)) {}
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;

    int number() const { return number_; }
    bool open() const { return number_ >= 0; }

  private:
    int number_;
};

fs::path folder_of(const fs::path& path) {
    return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

void check_folder(const fs::path& path) {
    const fs::path folder = folder_of(path);
    std::error_code error;
    if (!fs::exists(folder, error))
        throw OutputError(
            fmt::format("cannot write {}: there is no folder {}", shown(path), shown(folder)));
    if (!fs::is_directory(folder, error))
        throw OutputError(
            fmt::format("cannot write {}: {} is not a folder", shown(path), shown(folder)));
    if (::access(folder.c_str(), W_OK | X_OK) != 0)
        throw OutputError(fmt::format("cannot write {}: folder {}: {}", shown(path), shown(folder),
                                      std::strerror(errno)));
}

void check_name(const fs::path& path, bool force) {
    std::error_code error;
    const fs::file_status status = fs::symlink_status(path, error);
    if (error && error != std::errc::no_such_file_or_directory)
        throw OutputError(fmt::format("cannot write {}: {}", shown(path), error.message()));
    if (!fs::exists(status)) return;
    if (fs::is_directory(status))
        throw OutputError(fmt::format("cannot write {}: it is a folder", shown(path)));
    if (!fs::is_regular_file(status) && !fs::is_symlink(status))
        throw OutputError(fmt::format("cannot write {}: it is not a regular file", shown(path)));
    if (!force)
        throw OutputError(fmt::format("{} exists already; --force replaces it", shown(path)));
}

/// Makes what was written to a file or folder survive a power cut.
void sync(const fs::path& path) {
    const Descriptor file(path, O_RDONLY);
    // Some file systems cannot sync a folder and return EINVAL.
    if (file.open() && (::fsync(file.number()) == 0 || errno == EINVAL)) return;
    throw std::runtime_error(fmt::format("cannot write {}: {}", shown(path), std::strerror(errno)));
}

}  // namespace

void check_output(const fs::path& path, bool force) {
    if (!path.has_filename())
        throw OutputError(fmt::format("cannot write {}: it is not a file name", shown(path)));
    check_folder(path);
    check_name(path, force);
}

fs::path part_path(const fs::path& path) { return path.string() + ".part"; }

void acquire(const fs::path& path) {
    const Descriptor file(path, O_RDONLY | O_NONBLOCK);
    if (!file.open() && errno == ENOENT) return;
    // HDF5 holds a lock on what it writes.
    if (file.open() && ::flock(file.number(), LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
        throw OutputError(fmt::format("{} is being written by another run", shown(path)));
    if (::unlink(path.c_str()) != 0)
        throw OutputError(fmt::format("cannot replace {}: {}", shown(path), std::strerror(errno)));
}

void preallocate(const fs::path& path, std::size_t bytes) {
    const std::string zeros(bytes, '\0');
    errno = 0;  // before the file is opened, which may be what fails
    std::ofstream file(path, std::ios::binary | std::ios::trunc);
    file.write(zeros.data(), static_cast<std::streamsize>(zeros.size()));
    file.close();
    const int reason = errno;
    std::error_code ignored;
    fs::remove(path, ignored);
    if (file.good()) return;
    throw std::runtime_error(
        fmt::format("cannot write {}: {}", shown(path), std::strerror(reason)));
}

void commit_file(const fs::path& part, const fs::path& path) {
    sync(part);
    if (::rename(part.c_str(), path.c_str()) != 0)
        throw std::runtime_error(fmt::format("cannot rename {} to {}: {}", shown(part), shown(path),
                                             std::strerror(errno)));
    sync(folder_of(path));
}

}  // namespace bedshade
