// A trajectory read back: what a run found, whether it was finished or not.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "model/base/bed_grid.h"
#include "model/reef/layout.h"

#include "sim/base/flag.h"
#include "sim/run/event.h"
#include "sim/run/snapshot.h"
#include "sim/trajectory/colony_record.h"
#include "sim/trajectory/run_provenance.h"

namespace bedshade {

/// A file that is no trajectory, or a broken one: its path and the reason.
class TrajectoryError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Opens RUN.h5, or the RUN.h5.part of an unfinished run. Errors in the file are TrajectoryErrors.
/// Snapshots are read on demand; numbers were stored in single precision.
///
/// Not to be used by two threads at once.
class Trajectory {
  public:
    explicit Trajectory(const std::filesystem::path& path);
    ~Trajectory();
    Trajectory(Trajectory&&) noexcept;
    Trajectory& operator=(Trajectory&&) noexcept;

    /// Whether the run was finished.
    bool complete() const;
    const std::string& title() const;
    CalendarDay start() const;
    const RunProvenance& facts() const;

    int members() const { return facts().members; }
    /// Number of snapshots of a member in the file.
    int snapshots(int member) const;
    /// Days since the start, of the member that has most snapshots.
    const std::vector<double>& days_d() const;

    const std::vector<ColonyFacts>& colonies() const;
    const BedGrid& bed_grid() const;
    const std::vector<Flag>& flags() const;
    const std::vector<EventRecord>& events() const;

    /// One snapshot, colonies in the order of colonies(). Throws std::out_of_range where there is
    /// no such snapshot.
    std::vector<ColonyRecord> colonies_at(int member, int snapshot) const;
    /// The bed's maps in one snapshot, [y][x].
    BedObservation bed_at(int member, int snapshot) const;
    /// The flow field, if the run stored it.
    std::optional<FlowSample> flow() const;

  private:
    struct File;
    std::unique_ptr<File> file_;
};

}  // namespace bedshade
