#include "sim/trajectory/trajectory.h"

#include <algorithm>
#include <array>
#include <fmt/core.h>
#include <stdexcept>

#include "sim/base/text.h"
#include "sim/trajectory/hdf5_error.h"
#include "sim/trajectory/hdf5_probe.h"
#include "sim/trajectory/hdf5_reader.h"
#include "sim/trajectory/hdf5_types.h"
#include "sim/trajectory/snapshot_series.h"
#include "sim/trajectory/tables.h"
#include "sim/trajectory/trajectory_header.h"

namespace bedshade {

namespace fs = std::filesystem;

namespace {

constexpr hsize_t kMostSnapshots = 10'000'000;
constexpr hsize_t kMostBedCells = 4'000'000;

/// Runs `work`; errors in the file are reported with its path.
void reading(const fs::path& path, const std::function<void()>& work) {
    try {
        with_hdf5("read", path, work);
    } catch (const Mismatch& mismatch) {
        throw TrajectoryError(
            fmt::format("cannot read '{}': {}", escape_control(path.string()), mismatch.what()));
    } catch (const std::runtime_error& failure) {
        throw TrajectoryError(failure.what());
    }
}

/// Most days of a run: a century, many times the longest run.
void require_day(double day_d) {
    constexpr double kMostDays = 36'525.0;
    if (!(day_d >= 0.0 && day_d <= kMostDays))
        throw Mismatch(
            fmt::format("day {:g} is out of range; allowed: 0 to {:g}", day_d, kMostDays));
}

void require_colony(int index, int least, std::size_t colonies) {
    if (index < least || index >= static_cast<int>(colonies))
        throw Mismatch(fmt::format("colony {} is out of range (the file has {})", index, colonies));
}

void require_member(int member, int members) {
    if (member < 0 || member >= members)
        throw Mismatch(fmt::format("member {} is out of range (the file has {})", member, members));
}

/// Reads one snapshot of a dataset of numbers, `per_snapshot` of them.
std::vector<double> numbers_at(const H5::DataSet& dataset, int member, int snapshot,
                               std::size_t per_snapshot) {
    std::vector<double> numbers(per_snapshot);
    read_item(dataset, {static_cast<hsize_t>(member), static_cast<hsize_t>(snapshot)},
              H5::PredType::NATIVE_DOUBLE, numbers.data());
    return numbers;
}

std::vector<std::uint8_t> bytes_at(const H5::DataSet& dataset, const H5::DataType& type, int member,
                                   int snapshot, std::size_t per_snapshot) {
    std::vector<std::uint8_t> bytes(per_snapshot);
    read_item(dataset, {static_cast<hsize_t>(member), static_cast<hsize_t>(snapshot)}, type,
              bytes.data());
    return bytes;
}

/// Reads `count` snapshots of the marks of one member.
void read_run(const H5::DataSet& marks, hsize_t member, hsize_t first, hsize_t count,
              std::uint8_t* bytes) {
    const std::array<hsize_t, 2> start = {member, first}, size = {1, count};
    H5::DataSpace in_file = marks.getSpace();
    in_file.selectHyperslab(H5S_SELECT_SET, size.data(), start.data());
    marks.read(bytes, H5::PredType::NATIVE_UINT8, H5::DataSpace(2, size.data()), in_file);
}

std::vector<ShadeShare> shares_of(const StoredShade* ranks) {
    std::vector<ShadeShare> shares;
    for (int rank = 0; rank < kShadeRanks && ranks[rank].colony >= 0; ++rank)
        shares.push_back({ranks[rank].colony, static_cast<double>(ranks[rank].share)});
    return shares;
}

}  // namespace

struct Trajectory::File {
    fs::path path;
    H5::H5File hdf5;
    TrajectoryHeader header;
    std::vector<Flag> flags;
    std::vector<EventRecord> events;

    std::vector<H5::DataSet> figures;  ///< in the order of kColonyQuantities
    H5::DataSet time, present, stage, position, outline, shade_by;
    H5::DataSet bed_ppfd, bed_shear_stress, bed_deposition, written;
    hsize_t extent = 0;          ///< snapshots that every dataset has room for
    std::vector<int> snapshots;  ///< by member
    std::vector<double> days_d;

    explicit File(const fs::path& file_path);
    void open_all_series();
    H5::DataSet open_series(const std::string& name, H5T_class_t values,
                            const std::vector<hsize_t>& item);
    int count_snapshots(int member) const;
    int count_written(int member) const;
    bool readable(int member, int snapshot) const;
    void read_days();
    void read_tables();
    void require_snapshot(int member, int snapshot) const;

    std::vector<ColonyRecord> colonies_at(int member, int snapshot) const;
    void read_shape(int member, int snapshot, std::vector<ColonyRecord>& records) const;
    void read_quantities(int member, int snapshot, std::vector<ColonyRecord>& records) const;
    void read_shade(int member, int snapshot, std::vector<ColonyRecord>& records) const;
    BedObservation bed_at(int member, int snapshot) const;
};

Trajectory::File::File(const fs::path& file_path)
    : path(file_path), hdf5(open_trajectory(file_path)), header(read_header(hdf5)) {
    open_all_series();
    for (int member = 0; member < header.facts.members; ++member)
        snapshots.push_back(count_snapshots(member));
    read_days();
    read_tables();
}

void Trajectory::File::open_all_series() {
    const hsize_t colonies = header.colonies.size();
    const auto nx = static_cast<hsize_t>(header.bed.nx), ny = static_cast<hsize_t>(header.bed.ny);
    require_at_most("cells of the bed", nx * ny, kMostBedCells);
    time = open_dataset(hdf5, "/time", H5T_FLOAT, 1);
    extent = extent_of(time)[0];
    require_at_most("frames", extent, kMostSnapshots);
    present = open_series("/colony/present", H5T_INTEGER, {colonies});
    stage = open_series("/colony/stage", H5T_ENUM, {colonies});
    position = open_series("/colony/position", H5T_FLOAT, {colonies, 3});
    outline = open_series("/colony/outline", H5T_FLOAT, {colonies, kSectors});
    shade_by = open_series("/colony/shade_by", H5T_COMPOUND, {colonies, kShadeRanks});
    for (const auto& figure : kColonyQuantities)
        figures.push_back(
            open_series(std::string("/colony/") + figure.dataset, H5T_FLOAT, {colonies}));
    bed_ppfd = open_series("/bed/ppfd", H5T_FLOAT, {ny, nx});
    bed_shear_stress = open_series("/bed/shear_stress", H5T_FLOAT, {ny, nx});
    bed_deposition = open_series("/bed/fallout", H5T_FLOAT, {ny, nx});
    written = open_series("/written", H5T_INTEGER, {});
}

H5::DataSet Trajectory::File::open_series(const std::string& name, H5T_class_t values,
                                          const std::vector<hsize_t>& item) {
    H5::DataSet dataset = open_dataset(hdf5, name, values, static_cast<int>(item.size()) + 2);
    const std::vector<hsize_t> found = extent_of(dataset);
    if (found[0] != static_cast<hsize_t>(header.facts.members) ||
        !std::equal(item.begin(), item.end(), found.begin() + 2))
        throw Mismatch(fmt::format("{} differs in size from its scales", name));
    // A run killed while it wrote may have made room in some datasets and not in others.
    extent = std::min(extent, found[1]);
    return dataset;
}

/// Snapshots of a member that can be read. Those of a finished run must be there; a run killed
/// while it wrote may have left a last chunk that is not.
int Trajectory::File::count_snapshots(int member) const {
    int count = count_written(member);
    const int chunk = static_cast<int>(kSnapshotsPerChunk);
    while (!header.complete && count > 0 && !readable(member, count - 1))
        count = (count - 1) / chunk * chunk;
    return count;
}

int Trajectory::File::count_written(int member) const {
    std::vector<std::uint8_t> marks(extent, 0);
    for (hsize_t first = 0; first < extent; first += kSnapshotsPerChunk) {
        const hsize_t count = std::min(kSnapshotsPerChunk, extent - first);
        try {
            read_run(written, static_cast<hsize_t>(member), first, count, &marks[first]);
        } catch (const H5::Exception&) {
            if (header.complete) throw;
            break;
        }
    }
    return static_cast<int>(std::find(marks.begin(), marks.end(), 0) - marks.begin());
}

bool Trajectory::File::readable(int member, int snapshot) const {
    try {
        double day_d = 0.0;
        read_item(time, {static_cast<hsize_t>(snapshot)}, H5::PredType::NATIVE_DOUBLE, &day_d);
        colonies_at(member, snapshot);
        bed_at(member, snapshot);
        return true;
    } catch (const H5::Exception&) {
        return false;
    }
}

void Trajectory::File::read_days() {
    const int most = snapshots.empty() ? 0 : *std::max_element(snapshots.begin(), snapshots.end());
    if (most == 0) return;
    const hsize_t first = 0, count = static_cast<hsize_t>(most);
    days_d.resize(count);
    H5::DataSpace in_file = time.getSpace();
    in_file.selectHyperslab(H5S_SELECT_SET, &count, &first);
    time.read(days_d.data(), H5::PredType::NATIVE_DOUBLE, H5::DataSpace(1, &count), in_file);
    for (const double day_d : days_d) require_day(day_d);
    if (!std::is_sorted(days_d.begin(), days_d.end())) throw Mismatch("its days are out of order");
}

/// A run killed while it wrote its tables may have left names that lead nowhere.
void Trajectory::File::read_tables() {
    try {
        flags = read_flags(hdf5);
        events = read_events(hdf5);
    } catch (const H5::Exception&) {
        if (header.complete) throw;
    }
    const std::size_t colonies = header.colonies.size();
    for (const Flag& flag : flags) {
        require_day(flag.day_d);
        require_member(flag.member, header.facts.members);
        require_colony(flag.colony, 0, colonies);
        if (flag.culprit_kind == CulpritKind::colony) require_colony(flag.culprit, -1, colonies);
    }
    for (const EventRecord& event : events) {
        require_day(event.day_d);
        require_colony(event.colony, -1, colonies);
    }
}

void Trajectory::File::require_snapshot(int member, int snapshot) const {
    if (member < 0 || member >= header.facts.members || snapshot < 0 ||
        snapshot >= snapshots[static_cast<std::size_t>(member)])
        throw std::out_of_range(fmt::format("'{}' has no snapshot {} of member {}",
                                            escape_control(path.string()), snapshot, member));
}

void Trajectory::File::read_shape(int member, int snapshot,
                                  std::vector<ColonyRecord>& records) const {
    const std::size_t n = records.size();
    const auto is_present = bytes_at(present, H5::PredType::NATIVE_UINT8, member, snapshot, n);
    const auto stages = bytes_at(stage, stage_type(), member, snapshot, n);
    const auto positions_m = numbers_at(position, member, snapshot, 3 * n);
    const auto radii_m = numbers_at(outline, member, snapshot, kSectors * n);
    for (std::size_t i = 0; i < n; ++i) {
        if (stages[i] >= kStages.size()) throw Mismatch("a colony has an unknown stage");
        records[i].present = is_present[i] != 0;
        records[i].stage = static_cast<Stage>(stages[i]);
        records[i].position_m = Vec3(&positions_m[3 * i]);
        std::copy_n(&radii_m[kSectors * i], kSectors, records[i].radius_m.begin());
    }
}

void Trajectory::File::read_quantities(int member, int snapshot,
                                       std::vector<ColonyRecord>& records) const {
    for (std::size_t f = 0; f < kColonyQuantities.size(); ++f) {
        const auto values = numbers_at(figures[f], member, snapshot, records.size());
        for (std::size_t i = 0; i < records.size(); ++i)
            records[i].*kColonyQuantities[f].value = values[i];
    }
}

void Trajectory::File::read_shade(int member, int snapshot,
                                  std::vector<ColonyRecord>& records) const {
    std::vector<StoredShade> ranks(kShadeRanks * records.size());
    read_item(shade_by, {static_cast<hsize_t>(member), static_cast<hsize_t>(snapshot)},
              shade_type(), ranks.data());
    for (std::size_t i = 0; i < records.size(); ++i)
        records[i].shade_by = shares_of(&ranks[kShadeRanks * i]);
}

std::vector<ColonyRecord> Trajectory::File::colonies_at(int member, int snapshot) const {
    std::vector<ColonyRecord> records(header.colonies.size());
    if (records.empty()) return records;
    read_shape(member, snapshot, records);
    read_quantities(member, snapshot, records);
    read_shade(member, snapshot, records);
    return records;
}

BedObservation Trajectory::File::bed_at(int member, int snapshot) const {
    const std::size_t cells = header.bed.size();
    return {numbers_at(bed_ppfd, member, snapshot, cells),
            numbers_at(bed_shear_stress, member, snapshot, cells),
            numbers_at(bed_deposition, member, snapshot, cells)};
}

Trajectory::Trajectory(const fs::path& path) {
    reading(path, [&] {
        read_apart_first([&] { const File apart(path); });
        file_ = std::make_unique<File>(path);
    });
}

Trajectory::~Trajectory() = default;
Trajectory::Trajectory(Trajectory&&) noexcept = default;
Trajectory& Trajectory::operator=(Trajectory&&) noexcept = default;

bool Trajectory::complete() const { return file_->header.complete; }
const std::string& Trajectory::title() const { return file_->header.title; }
CalendarDay Trajectory::start() const { return file_->header.start; }
const RunProvenance& Trajectory::facts() const { return file_->header.facts; }
int Trajectory::snapshots(int member) const {
    return file_->snapshots.at(static_cast<std::size_t>(member));
}
const std::vector<double>& Trajectory::days_d() const { return file_->days_d; }
const std::vector<ColonyFacts>& Trajectory::colonies() const { return file_->header.colonies; }
const BedGrid& Trajectory::bed_grid() const { return file_->header.bed; }
const std::vector<Flag>& Trajectory::flags() const { return file_->flags; }
const std::vector<EventRecord>& Trajectory::events() const { return file_->events; }

std::vector<ColonyRecord> Trajectory::colonies_at(int member, int snapshot) const {
    file_->require_snapshot(member, snapshot);
    std::vector<ColonyRecord> records;
    reading(file_->path, [&] { records = file_->colonies_at(member, snapshot); });
    return records;
}

BedObservation Trajectory::bed_at(int member, int snapshot) const {
    file_->require_snapshot(member, snapshot);
    BedObservation bed;
    reading(file_->path, [&] { bed = file_->bed_at(member, snapshot); });
    return bed;
}

std::optional<FlowSample> Trajectory::flow() const {
    std::optional<FlowSample> flow;
    reading(file_->path, [&] {
        if (has_flow(file_->hdf5)) flow = read_flow(file_->hdf5);
    });
    return flow;
}

}  // namespace bedshade
