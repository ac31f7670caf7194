#include "sim/trajectory/hdf5_error.h"

#include <fmt/core.h>
#include <stdexcept>
#include <sys/mman.h>
#include <unistd.h>

#include "sim/base/text.h"

namespace bedshade {

namespace {

/// Keeps the message of the innermost entry of an error stack.
herr_t keep_innermost(unsigned depth, const H5E_error2_t* entry, void* reason) {
    if (depth == 0 && entry->desc != nullptr) *static_cast<std::string*>(reason) = entry->desc;
    return 0;
}

/// HDF5 calls this at each failure. Only the first is kept: later ones are its consequences, from
/// objects that close while the exception is on its way.
herr_t keep_first(hid_t stack, void* reason) {
    if (!static_cast<std::string*>(reason)->empty()) return 0;
    return H5Ewalk2(stack, H5E_WALK_UPWARD, keep_innermost, reason);
}

/// Directs this thread's HDF5 failures into a text while it lives.
class QuietErrors {
  public:
    QuietErrors() {
        H5Eget_auto2(H5E_DEFAULT, &function_, &data_);
        H5Eset_auto2(H5E_DEFAULT, keep_first, &reason_);
    }
    ~QuietErrors() { H5Eset_auto2(H5E_DEFAULT, function_, data_); }
    QuietErrors(const QuietErrors&) = delete;
    QuietErrors& operator=(const QuietErrors&) = delete;

    const std::string& reason() const { return reason_; }

  private:
    H5E_auto2_t function_ = nullptr;
    void* data_ = nullptr;
    std::string reason_;
};

/// The system's own words in a reason such as "…, errno = 28, error message = 'No space left …',
/// …".
std::string plain(const std::string& reason) {
    if (reason.find("unable to lock file") != std::string::npos)
        return "another program is writing it";
    const std::string mark = "error message = '";
    const auto begin = reason.find(mark);
    if (begin == std::string::npos) return reason;
    const auto end = reason.find('\'', begin + mark.size());
    return reason.substr(begin + mark.size(), end - begin - mark.size());
}

}  // namespace

void with_hdf5(const std::string& what, const std::filesystem::path& path,
               const std::function<void()>& work) {
    const QuietErrors errors;
    try {
        work();
    } catch (const H5::Exception& failure) {
        const std::string reason =
            errors.reason().empty() ? failure.getDetailMsg() : plain(errors.reason());
        throw std::runtime_error(fmt::format(
            "cannot {} '{}': {}", what, escape_control(path.string()), escape_control(reason)));
    }
}

void divert_to_memory(const H5::H5File& file) {
    void* handle = nullptr;
    const hid_t driver = H5Fget_access_plist(file.getId());
    const bool known = driver >= 0 && H5Pget_driver(driver) == H5FD_SEC2 &&
                       H5Fget_vfd_handle(file.getId(), driver, &handle) >= 0;
    if (driver >= 0) H5Pclose(driver);
    if (!known) return;
    const int memory = ::memfd_create("bedshade", MFD_CLOEXEC);
    if (memory < 0) return;
    ::dup2(memory, *static_cast<int*>(handle));
    ::close(memory);
}

void require(herr_t status, const char* call) {
    if (status < 0) throw H5::Exception(call, "failed");
}

}  // namespace bedshade
