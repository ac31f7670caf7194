// A run as an HDF5 file that anything can read: the trajectory
// (notebooks-free-docs/file-format.md).
#pragma once

#include <filesystem>
#include <memory>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/reef/layout.h"

#include "sim/base/flag.h"
#include "sim/run/event.h"
#include "sim/run/snapshot.h"
#include "sim/trajectory/run_provenance.h"

namespace bedshade {

/// Grows NAME.part and gives it its name when the run is done. Snapshots are held until a chunk of
/// 16 is full, then written and flushed, so that a run killed at any moment leaves a file that
/// opens and holds every snapshot flushed until then. The same run gives the same bytes.
///
/// Not to be used by two threads at once. Failures to write (disk full …) are std::runtime_errors
/// with path and reason; nothing then appears under the final name. Data of other sizes than the
/// layout and grid say are std::invalid_arguments.
class TrajectoryWriter : public SnapshotSink {
  public:
    /// Does not look whether `path` exists: see check_output().
    TrajectoryWriter(const std::filesystem::path& path, const Layout& layout, const BedGrid& bed,
                     const RunProvenance& facts, const FlowSample* flow = nullptr);
    /// An unfinished run: writes what is still held and leaves NAME.part.
    ~TrajectoryWriter() override;
    TrajectoryWriter(const TrajectoryWriter&) = delete;
    TrajectoryWriter& operator=(const TrajectoryWriter&) = delete;

    /// The next snapshot of member 0.
    void take(const Snapshot& snapshot) override { take(0, snapshot); }
    /// The next snapshot of a member. Members may come one after another or by turns; their
    /// snapshots must fall on the same days.
    void take(int member, const Snapshot& snapshot);
    /// There will be no more snapshots of this member: writes those still held.
    void end_member(int member);

    void add(const Flag& flag);
    void add(const EventRecord& event);

    /// Writes what is held and the tables, marks the file complete and gives it its name.
    void finish();

  private:
    struct File;
    std::unique_ptr<File> file_;
};

}  // namespace bedshade
