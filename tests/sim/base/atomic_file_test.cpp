// Outputs that cannot be are reported before a run, and disks that fill up during one.
#include "sim/base/atomic_file.h"

#include <catch2/catch.hpp>
#include <sys/mman.h>
#include <sys/mount.h>
#include <sys/stat.h>
#include <unistd.h>

#include "sim/base/text_output.h"
#include "sim/trajectory/trajectory.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"
#include "tests/unprivileged.h"

using namespace bedshade;
using bedshade::test::holds_for_nobody;
using Catch::Matchers::Contains;

namespace {

namespace fs = std::filesystem;

std::string refusal(const fs::path& path, bool force = false) {
    try {
        check_output(path, force);
    } catch (const OutputError& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("a new file in an existing folder is accepted") {
    const synthetic::Folder folder;
    CHECK_NOTHROW(check_output(folder / "run.h5", false));
    CHECK_NOTHROW(check_output("a name without a folder.h5", false));
}

TEST_CASE("a file that exists is refused unless forced") {
    const synthetic::Folder folder;
    std::ofstream(folder / "run.h5") << "precious";
    CHECK_THAT(refusal(folder / "run.h5"),
               Contains("run.h5' exists already") && Contains("--force"));
    CHECK_NOTHROW(check_output(folder / "run.h5", true));
    CHECK(synthetic::bytes_of(folder / "run.h5") == "precious");
}

TEST_CASE("folders and devices are refused even when forced") {
    const synthetic::Folder folder;
    CHECK_THAT(refusal(folder.path(), true), Contains("it is a folder"));
    CHECK_THAT(refusal("/dev/full", true), Contains("it is not a regular file"));
    CHECK_THAT(refusal(folder.path().string() + "/", true), Contains("it is not a file name"));
    CHECK_THAT(refusal("", true), Contains("it is not a file name"));
}

TEST_CASE("a missing folder, or a file in its place, is reported") {
    const synthetic::Folder folder;
    CHECK_THAT(refusal(folder / "no/run.h5"), Contains("there is no folder"));
    std::ofstream(folder / "file") << "x";
    CHECK_THAT(refusal(folder / "file/run.h5"), Contains("is not a folder"));
}

TEST_CASE("a folder that cannot be written to is refused") {
    const synthetic::Folder folder;
    fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec |
                                       fs::perms::others_read | fs::perms::others_exec);
    CHECK(holds_for_nobody(
        [&] { return refusal(folder / "run.h5").find("Permission denied") != std::string::npos; }));
    CHECK(holds_for_nobody([&] {
        try {
            TrajectoryWriter(folder / "run.h5", synthetic::layout(1), synthetic::bed(),
                             synthetic::facts());
        } catch (const std::runtime_error& error) {
            return std::string(error.what()).find("run.h5.part': Permission denied") !=
                   std::string::npos;
        }
        return false;
    }));
}

TEST_CASE("an invalid file name is reported with the system's reason") {
    const synthetic::Folder folder;
    CHECK_THAT(refusal(folder / std::string(300, 'x')), Contains("File name too long"));
}

TEST_CASE("a leftover file that cannot be removed is reported") {
    const synthetic::Folder folder;
    fs::create_directory(folder / "run.h5.part");
    CHECK_THROWS_WITH(acquire(folder / "run.h5.part"),
                      Contains("cannot replace '") && Contains("run.h5.part': Is a directory"));
    CHECK_NOTHROW(acquire(folder / "none.h5.part"));
}

TEST_CASE("a failed rename is reported and keeps the temporary file") {
    const synthetic::Folder folder;
    std::ofstream(folder / "run.h5.part") << "precious";
    fs::create_directory(folder / "run.h5");
    CHECK_THROWS_WITH(commit_file(folder / "run.h5.part", folder / "run.h5"),
                      Contains("cannot rename '") && Contains("run.h5': Is a directory"));
    CHECK(synthetic::bytes_of(folder / "run.h5.part") == "precious");
    CHECK_THROWS_WITH(commit_file(folder / "none.part", folder / "none"),
                      Contains("none.part': No such file or directory"));
}

TEST_CASE("a failed text write is reported and leaves no partial file") {
    const synthetic::Folder folder;
    CHECK_THROWS_WITH(write_text(folder / "no/some.csv", "x"),
                      Contains("no/some.csv: No such file or directory"));
    fs::create_directory(folder / "some.csv");
    CHECK_THROWS_WITH(write_text(folder / "some.csv", "x"), Contains("some.csv: Is a directory"));
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 1);
}

TEST_CASE("a file that cannot be created is reported with the system's reason") {
    const synthetic::Folder folder;
    CHECK_THROWS_WITH(preallocate(folder / "no/run.h5.part", 100),
                      Contains("No such file or directory"));
}

TEST_CASE("control characters of a name cannot drive the terminal") {
    CHECK(refusal("/no\x1b[31m/run.h5").find('\x1b') == std::string::npos);
}

namespace {

/// A tiny disk that fills up, where this process may make one.
class TinyDisk {
  public:
    TinyDisk(const fs::path& place, const std::string& size) : place_(place) {
        fs::create_directory(place);
        mounted_ = ::mount("tmpfs", place.c_str(), "tmpfs", 0, ("size=" + size).c_str()) == 0;
    }
    ~TinyDisk() {
        if (mounted_) ::umount(place_.c_str());
    }
    TinyDisk(const TinyDisk&) = delete;
    TinyDisk& operator=(const TinyDisk&) = delete;

    /// Warns where there is none, for then nothing is checked.
    bool mounted() const {
        if (!mounted_) WARN("not checked: only root can mount a tiny disk");
        return mounted_;
    }

  private:
    fs::path place_;
    bool mounted_ = false;
};

/// What this process prints on standard error meanwhile.
class Overheard {
  public:
    Overheard() : kept_(::dup(STDERR_FILENO)), heard_(::memfd_create("overheard", 0)) {
        ::dup2(heard_, STDERR_FILENO);
    }
    ~Overheard() {
        ::dup2(kept_, STDERR_FILENO);
        ::close(kept_);
        ::close(heard_);
    }
    Overheard(const Overheard&) = delete;
    Overheard& operator=(const Overheard&) = delete;

    off_t bytes() const { return ::lseek(heard_, 0, SEEK_END); }

  private:
    int kept_, heard_;
};

/// Whether this process has a file of this folder open.
bool holds_any_of(const fs::path& folder) {
    for (const auto& open : fs::directory_iterator("/proc/self/fd")) {
        std::error_code gone;
        if (fs::read_symlink(open.path(), gone).string().rfind(folder.string() + "/", 0) == 0)
            return true;
    }
    return false;
}

/// Writes frames until the disk is full; returns what is said then, and how many were taken.
std::string fill(const fs::path& path, int& taken) {
    TrajectoryWriter writer(path, synthetic::layout(40), synthetic::bed(), synthetic::facts());
    try {
        for (taken = 0; taken < 100'000; ++taken) writer.take(synthetic::snapshot(0, taken, 40));
        writer.finish();
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("a disk that fills up is reported, and earlier output stays") {
    const synthetic::Folder folder;
    const TinyDisk disk(folder / "disk", "1m");
    if (!disk.mounted()) return;
    int taken = 0;
    const Overheard overheard;
    CHECK_THAT(fill(folder / "disk/run.h5", taken),
               Contains("disk/run.h5.part'") && Contains("No space left on device"));
    CHECK(overheard.bytes() == 0);
    CHECK_FALSE(holds_any_of(folder / "disk"));
    CHECK(taken > 32);
    CHECK_FALSE(fs::exists(folder / "disk/run.h5"));
    const Trajectory run(folder / "disk/run.h5.part");
    CHECK(run.snapshots(0) >= taken / 16 * 16 - 16);
    CHECK(run.colonies_at(0, run.snapshots(0) - 1).size() == 40);
}

TEST_CASE("a full disk is reported and left unchanged") {
    const synthetic::Folder folder;
    const TinyDisk disk(folder / "disk", "16k");
    if (!disk.mounted()) return;
    const Overheard overheard;
    CHECK_THROWS_WITH(TrajectoryWriter(folder / "disk/run.h5", synthetic::layout(40),
                                       synthetic::bed(), synthetic::facts()),
                      Contains("No space left on device"));
    CHECK(overheard.bytes() == 0);
    CHECK_FALSE(holds_any_of(folder / "disk"));
    CHECK(fs::is_empty(folder / "disk"));
}

TEST_CASE("a text too large for the disk is reported and leaves no partial file") {
    const synthetic::Folder folder;
    const TinyDisk disk(folder / "disk", "16k");
    if (!disk.mounted()) return;
    CHECK_THROWS_WITH(write_text(folder / "disk/some.csv", std::string(100'000, 'x')),
                      Contains("some.csv: No space left on device"));
    CHECK(fs::is_empty(folder / "disk"));
}
