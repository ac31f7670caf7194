#include "sim/trajectory/trajectory_writer.h"

#include <algorithm>
#include <fmt/core.h>
#include <map>
#include <optional>
#include <stdexcept>
#include <system_error>

#include "sim/base/atomic_file.h"
#include "sim/trajectory/colony_record.h"
#include "sim/trajectory/hdf5_dataset.h"
#include "sim/trajectory/hdf5_error.h"
#include "sim/trajectory/hdf5_types.h"
#include "sim/trajectory/tables.h"
#include "sim/trajectory/trajectory_schema.h"

namespace bedshade {

namespace fs = std::filesystem;

namespace {

std::vector<float> narrowed(const std::vector<double>& values) {
    std::vector<float> narrow;
    narrow.reserve(values.size());
    for (const double value : values) narrow.push_back(static_cast<float>(value));
    return narrow;
}

void require_size(const char* what, std::size_t found, std::size_t expected) {
    if (found != expected)
        throw std::invalid_argument(
            fmt::format("trajectory: {} {}, but {} expected", found, what, expected));
}

void check_flow(const FlowSample& flow) {
    require_size("flow velocities", flow.velocity_m_s.size(), 3 * flow.points());
    require_size("turbulent speeds", flow.turbulent_speed_m_s.size(), flow.points());
}

std::vector<StoredShade> stored(const std::vector<ShadeShare>& shade_by) {
    std::vector<StoredShade> ranks(kShadeRanks);
    for (std::size_t i = 0; i < shade_by.size(); ++i)
        ranks[i] = {shade_by[i].colony, static_cast<float>(shade_by[i].share)};
    return ranks;
}

/// All colonies of a snapshot, by dataset.
struct ColonyColumns {
    std::vector<std::uint8_t> present, stage;
    std::vector<float> position, outline;
    std::vector<StoredShade> shade_by;
    std::vector<std::vector<float>> figures =
        std::vector<std::vector<float>>(kColonyQuantities.size());

    void add(const ColonyRecord& record) {
        present.push_back(record.present ? 1 : 0);
        stage.push_back(static_cast<std::uint8_t>(record.stage));
        for (const double x : record.position_m) position.push_back(static_cast<float>(x));
        for (const double r : record.radius_m) outline.push_back(static_cast<float>(r));
        const auto ranks = stored(record.shade_by);
        shade_by.insert(shade_by.end(), ranks.begin(), ranks.end());
        for (std::size_t i = 0; i < kColonyQuantities.size(); ++i)
            figures[i].push_back(static_cast<float>(record.*kColonyQuantities[i].value));
    }
};

/// Closes a file. One that HDF5 cannot close, after a flush that failed, is left to HDF5: the
/// object's destructor would try once more, and print.
void let_go(std::unique_ptr<H5::H5File> file) {
    if (file == nullptr) return;
    try {
        file->close();
    } catch (const H5::Exception&) {
        static_cast<void>(file.release());
    }
}

}  // namespace

struct TrajectoryWriter::File {
    fs::path path, part;
    CalendarDay start;
    std::size_t colonies = 0, bed_cells = 0;
    int members = 1;

    std::unique_ptr<H5::H5File> hdf5;
    std::optional<TrajectorySeries> series;
    std::vector<double> days_d;      ///< of the snapshots taken, of the member that is furthest
    hsize_t days_written = 0;        ///< of days_d, how many are in /time
    std::map<int, hsize_t> written;  ///< snapshots in the file, by member
    std::map<int, hsize_t> held;     ///< snapshots not yet there
    std::vector<Flag> flags;
    std::vector<EventRecord> events;
    bool failed = false;

    /// Runs something that writes; after a failure nothing more is written.
    void writing(const std::function<void()>& work);
    void create(const Layout& layout, const BedGrid& bed, const RunProvenance& facts,
                const FlowSample* flow);
    void check(int member, const Snapshot& snapshot);
    void hold(int member, const Snapshot& snapshot);
    void hold_colonies(int member, const Snapshot& snapshot);
    void write_held(int member);
    void write_all_held();
    void write_days(hsize_t until);
    void flush() { hdf5->flush(H5F_SCOPE_GLOBAL); }
    void write_tables();
    void close();
    void stop();
    void abandon();
};

void TrajectoryWriter::File::writing(const std::function<void()>& work) {
    if (failed) throw std::runtime_error(fmt::format("'{}' could not be written", part.string()));
    failed = true;
    with_hdf5("write", part, work);
    failed = false;
}

/// What the head of a file takes at most, texts aside.
constexpr std::size_t kRoomToBegin = 256U << 10U;

void TrajectoryWriter::File::create(const Layout& layout, const BedGrid& bed,
                                    const RunProvenance& facts, const FlowSample* flow) {
    // Takes the name NAME.part only once it can be opened, so that no kill leaves a broken one.
    const fs::path begun = part.string() + ".new";
    acquire(part);
    acquire(begun);
    preallocate(begun, kRoomToBegin);
    try {
        writing([&] {
            hdf5 = std::make_unique<H5::H5File>(create_file(begun.string()));
            series = create_trajectory(*hdf5, layout, bed, facts, flow);
            flush();
        });
        fs::rename(begun, part);
    } catch (...) {
        abandon();
        std::error_code ignored;
        fs::remove(begun, ignored);
        throw;
    }
}

void TrajectoryWriter::File::check(int member, const Snapshot& snapshot) {
    if (!hdf5) throw std::logic_error("trajectory: a snapshot after the end");
    if (member < 0 || member >= members)
        throw std::invalid_argument(fmt::format("trajectory: no member {}", member));
    require_size("colony states", snapshot.reef.colonies.size(), colonies);
    require_size("colony observations", snapshot.colonies.size(), colonies);
    require_size("cells of light on the bed", snapshot.bed.ppfd_umol_m2_s.size(), bed_cells);
    require_size("cells of bed stress", snapshot.bed.shear_stress_Pa.size(), bed_cells);
    require_size("cells of deposition", snapshot.bed.deposition_kg_m2_d.size(), bed_cells);
    const hsize_t index = written[member] + held[member];
    if (index == days_d.size()) {
        days_d.push_back(snapshot.day_d);
    } else if (days_d[index] != snapshot.day_d) {
        throw std::invalid_argument(
            fmt::format("trajectory: member {} has day {} where others have {}", member,
                        snapshot.day_d, days_d[index]));
    }
}

void TrajectoryWriter::File::hold_colonies(int member, const Snapshot& snapshot) {
    ColonyColumns columns;
    for (std::size_t i = 0; i < colonies; ++i)
        columns.add(record_of(snapshot.reef.colonies[i], snapshot.colonies[i]));
    series->present.hold(member, columns.present.data());
    series->stage.hold(member, columns.stage.data());
    series->position.hold(member, columns.position.data());
    series->outline.hold(member, columns.outline.data());
    series->shade_by.hold(member, columns.shade_by.data());
    for (std::size_t i = 0; i < columns.figures.size(); ++i)
        series->figures[i].hold(member, columns.figures[i].data());
}

void TrajectoryWriter::File::hold(int member, const Snapshot& snapshot) {
    hold_colonies(member, snapshot);
    series->bed_ppfd.hold(member, narrowed(snapshot.bed.ppfd_umol_m2_s).data());
    series->bed_shear_stress.hold(member, narrowed(snapshot.bed.shear_stress_Pa).data());
    series->bed_deposition.hold(member, narrowed(snapshot.bed.deposition_kg_m2_d).data());
    const std::uint8_t one = 1;
    series->written.hold(member, &one);
    ++held[member];
}

void TrajectoryWriter::File::write_days(hsize_t until) {
    if (until <= days_written) return;
    const hsize_t count = until - days_written;
    series->time.extend(&until);
    H5::DataSpace in_file = series->time.getSpace();
    in_file.selectHyperslab(H5S_SELECT_SET, &count, &days_written);
    series->time.write(&days_d[days_written], H5::PredType::NATIVE_DOUBLE, H5::DataSpace(1, &count),
                       in_file);
    days_written = until;
}

void TrajectoryWriter::File::write_held(int member) {
    if (held[member] == 0) return;
    writing([&] {
        const hsize_t first = written[member];
        write_days(first + held[member]);
        for (SnapshotSeries* one : series->all()) one->write(member, first);
        flush();
    });
    written[member] += held[member];
    held.erase(member);
}

void TrajectoryWriter::File::write_all_held() {
    for (int member = 0; member < members; ++member)
        if (held.count(member) != 0) write_held(member);
}

void TrajectoryWriter::File::write_tables() {
    writing([&] {
        write_flags(*hdf5, start, flags);
        write_events(*hdf5, start, events);
        flush();
    });
}

void TrajectoryWriter::File::close() {
    writing([&] {
        series.reset();
        hdf5->close();
    });
    hdf5.reset();
}

/// An orderly end of a run that is not done: the file is as useful as it can be.
void TrajectoryWriter::File::stop() {
    if (!failed) {
        write_all_held();
        write_tables();
    }
    abandon();
}

/// Lets go of the file whatever state it is in.
void TrajectoryWriter::File::abandon() {
    with_hdf5("close", part, [&] {
        if (failed && hdf5) divert_to_memory(*hdf5);
        series.reset();
        let_go(std::move(hdf5));
    });
}

TrajectoryWriter::TrajectoryWriter(const fs::path& path, const Layout& layout, const BedGrid& bed,
                                   const RunProvenance& facts, const FlowSample* flow)
    : file_(std::make_unique<File>()) {
    if (flow != nullptr) check_flow(*flow);
    file_->path = path;
    file_->part = part_path(path);
    if (facts.members < 1) throw std::invalid_argument("trajectory: no members");
    file_->start = layout.season.start;
    file_->colonies = layout.colonies.size();
    file_->bed_cells = bed.size();
    file_->members = facts.members;
    file_->create(layout, bed, facts, flow);
}

TrajectoryWriter::~TrajectoryWriter() {
    if (!file_->hdf5) return;
    try {
        file_->stop();
    } catch (const std::exception&) {
        // Earlier flushes are in the file, and a destructor cannot report errors.
    }
}

void TrajectoryWriter::take(int member, const Snapshot& snapshot) {
    file_->check(member, snapshot);
    file_->hold(member, snapshot);
    if (file_->held[member] == kSnapshotsPerChunk) file_->write_held(member);
}

void TrajectoryWriter::end_member(int member) { file_->write_held(member); }

void TrajectoryWriter::add(const Flag& flag) { file_->flags.push_back(flag); }

void TrajectoryWriter::add(const EventRecord& event) { file_->events.push_back(event); }

void TrajectoryWriter::finish() {
    file_->write_all_held();
    file_->write_tables();
    file_->writing([&] {
        const std::uint64_t yes = 1;
        file_->hdf5->openAttribute("complete").write(H5::PredType::NATIVE_UINT64, &yes);
        file_->flush();
    });
    file_->close();
    commit_file(file_->part, file_->path);
}

}  // namespace bedshade
