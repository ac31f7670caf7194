// A run killed at any write to the disk leaves nothing, or a part that opens and holds every frame
// that was flushed until then.
#include <catch2/catch.hpp>
#include <csignal>
#include <dlfcn.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include "sim/trajectory/snapshot_series.h"
#include "sim/trajectory/trajectory.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;

namespace {

constexpr int kColonies = 2;
constexpr int kSnapshots = 34;  // two chunks and a bit

/// Writes still allowed to this process; none is counted while negative.
long writes_left = -1;
/// Whether the last write gets half done.
bool tears = false;

ssize_t really_write(int file, const void* bytes, std::size_t count, off_t at) {
    using Write = ssize_t (*)(int, const void*, std::size_t, off_t);
    static const auto write = reinterpret_cast<Write>(::dlsym(RTLD_NEXT, "pwrite"));
    return write(file, bytes, count, at);
}

/// What the killed process tells: memory shared with it.
struct Progress {
    int flushed = 0;    ///< frames that were flushed
    bool done = false;  ///< it was not killed
};

Progress* shared_progress() {
    void* memory = ::mmap(nullptr, sizeof(Progress), PROT_READ | PROT_WRITE,
                          MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    return new (memory) Progress;
}

/// The run whose process gets killed.
void run_until_killed(const std::filesystem::path& path, Progress* progress) {
    TrajectoryWriter writer(path, synthetic::layout(kColonies), synthetic::bed(),
                            synthetic::facts());
    const int chunk = static_cast<int>(kSnapshotsPerChunk);
    for (int i = 0; i < kSnapshots; ++i) {
        writer.take(synthetic::snapshot(0, i, kColonies));
        progress->flushed = (i + 1) / chunk * chunk;
    }
    writer.finish();
    progress->done = true;
}

void kill_after(long writes, bool torn, const std::filesystem::path& path, Progress* progress) {
    *progress = {};
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        writes_left = writes;
        tears = torn;
        run_until_killed(path, progress);
        ::_exit(0);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    REQUIRE((progress->done || (WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL)));
}

void check_snapshots(const Trajectory& run) {
    for (int i = 0; i < run.snapshots(0); ++i) {
        const auto records = run.colonies_at(0, i);
        const auto expected = synthetic::state(0, i, 0);
        REQUIRE(run.days_d()[static_cast<std::size_t>(i)] == 7.0 * i);
        REQUIRE(records[0].height_m == static_cast<double>(static_cast<float>(expected.height_m)));
        REQUIRE(run.bed_at(0, i).deposition_kg_m2_d[0] ==
                static_cast<double>(static_cast<float>(0.2 + i)));
    }
}

/// Returns whether the run got to its end.
bool check_kill(long writes, bool torn, Progress* progress) {
    const synthetic::Folder folder;
    kill_after(writes, torn, folder / "run.h5", progress);
    const auto part = folder / "run.h5.part";
    CAPTURE(writes, torn, progress->flushed);
    if (progress->done) return true;
    REQUIRE((progress->flushed == 0 || std::filesystem::exists(part)));
    if (!std::filesystem::exists(part)) return false;
    const Trajectory run(part);
    REQUIRE(run.snapshots(0) >= progress->flushed);
    check_snapshots(run);
    return false;
}

}  // namespace

/// Stands in for the C library's in this program, HDF5 included.
extern "C" ssize_t pwrite(int file, const void* bytes, std::size_t count, off_t at) {
    if (writes_left < 0) return really_write(file, bytes, count, at);
    if (writes_left == 0) {
        if (tears) really_write(file, bytes, count / 2, at);
        ::raise(SIGKILL);
    }
    --writes_left;
    return really_write(file, bytes, count, at);
}

TEST_CASE("a run killed at any write keeps the flushed part") {
    Progress* progress = shared_progress();
    long kills = 0;
    // Every other write gets half done, as when the kill comes in the middle of it.
    while (!check_kill(kills, kills % 2 == 1, progress)) ++kills;
    // Fewer would mean that HDF5 no longer writes through the stand-in.
    CHECK(kills > 50);
    ::munmap(progress, sizeof(Progress));
}

TEST_CASE("a run killed at any write, partial or complete", "[.slow]") {
    Progress* progress = shared_progress();
    const bool torn = GENERATE(false, true);
    long kills = 0;
    while (!check_kill(kills, torn, progress)) ++kills;
    CHECK(kills > 50);
    ::munmap(progress, sizeof(Progress));
}
