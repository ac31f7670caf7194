#include "sim/base/text_output.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <stdexcept>
#include <unistd.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

std::runtime_error failure(const std::filesystem::path& path, int code) {
    return std::runtime_error(
        fmt::format("cannot write {}: {}", escape_control(path.string()), std::strerror(code)));
}

bool write_all(int file, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return fsync(file) == 0;
}

}  // namespace

void write_text(const std::filesystem::path& path, std::string_view text) {
    const std::string part = path.string() + ".part";
    const int file = ::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    if (file < 0) throw failure(path, errno);
    const bool whole = write_all(file, text);
    const int code = errno;
    const bool closed = ::close(file) == 0;
    if (whole && closed && std::rename(part.c_str(), path.c_str()) == 0) return;
    const int reason = whole ? errno : code;
    ::unlink(part.c_str());
    throw failure(path, reason);
}

}  // namespace bedshade
