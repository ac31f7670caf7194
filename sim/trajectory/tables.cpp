#include "sim/trajectory/tables.h"

#include <fmt/core.h>
#include <limits>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/trajectory/hdf5_dataset.h"
#include "sim/trajectory/hdf5_reader.h"
#include "sim/trajectory/hdf5_types.h"

namespace bedshade {

namespace {

constexpr const char* kFlagsPath = "/flags";
constexpr const char* kEventsPath = "/events";
constexpr hsize_t kMostRows = 10'000'000;

constexpr hsize_t kRowsPerChunk = 64;

/// A table has no coordinates but its own rows, so that it is the scale of its one dimension.
void create_table(H5::H5File& file, const std::string& name, const Meaning& meaning,
                  const H5::CompType& type) {
    create_growing_dimension(file, name, meaning, packed(type), kRowsPerChunk);
}

template <typename Row>
void write_rows(H5::H5File& file, const char* path, const H5::CompType& type,
                const std::vector<Row>& rows) {
    if (rows.empty()) return;
    H5::DataSet table = file.openDataSet(path);
    const hsize_t count = rows.size();
    table.extend(&count);
    table.write(rows.data(), type);
}

std::string json_of(const Flag& flag) {
    nlohmann::ordered_json json = nlohmann::ordered_json::object();
    for (const auto& [name, value] : flag.detail) json[name] = value;
    return json_line(json);
}

std::vector<std::pair<std::string, double>> detail_of(const std::string& text) {
    const auto json = nlohmann::ordered_json::parse(text, nullptr, false);
    if (!json.is_object())
        throw Mismatch(fmt::format("{} has a detail that is not JSON", kFlagsPath));
    std::vector<std::pair<std::string, double>> detail;
    for (const auto& [name, value] : json.items())
        detail.emplace_back(name, value.is_number() ? value.get<double>()
                                                    : std::numeric_limits<double>::quiet_NaN());
    return detail;
}

template <typename Stored>
void set_date(Stored& row, CalendarDay start) {
    date_at(start, row.day_d).copy(row.date, sizeof(row.date));
}

StoredFlag stored(const Flag& flag, const std::string& detail, CalendarDay start) {
    StoredFlag row;
    row.detail = detail.c_str();
    row.day_d = flag.day_d;
    row.share = flag.share;
    row.member = flag.member;
    row.month = flag.month;
    row.colony = flag.colony;
    row.culprit = flag.culprit;
    row.flag = static_cast<std::uint8_t>(flag.kind);
    row.culprit_kind = static_cast<std::uint8_t>(flag.culprit_kind);
    set_date(row, start);
    return row;
}

StoredEvent stored(const EventRecord& event, CalendarDay start) {
    StoredEvent row;
    row.day_d = event.day_d;
    row.kind = event.kind.c_str();
    row.text = event.text.c_str();
    row.member = event.member;
    row.colony = event.colony;
    set_date(row, start);
    return row;
}

/// A text from the file, where nothing may stand for an empty one.
std::string text_of(const char* text) { return text == nullptr ? "" : text; }

Flag flag_from(const StoredFlag& row) {
    if (row.flag >= kFlagKinds.size() || row.culprit_kind >= kCulpritKinds.size())
        throw Mismatch(fmt::format("{} has a flag or culprit of unknown kind", kFlagsPath));
    Flag flag;
    flag.kind = static_cast<FlagKind>(row.flag);
    flag.member = row.member;
    flag.month = row.month;
    flag.day_d = row.day_d;
    flag.colony = row.colony;
    flag.culprit_kind = static_cast<CulpritKind>(row.culprit_kind);
    flag.culprit = row.culprit;
    flag.share = row.share;
    flag.detail = detail_of(text_of(row.detail));
    return flag;
}

EventRecord event_from(const StoredEvent& row) {
    return {row.day_d, row.member, text_of(row.kind), row.colony, text_of(row.text)};
}

/// Reads the rows of a table, each turned into a record by `from`.
template <typename Row, typename Record>
std::vector<Record> read_rows(const H5::H5File& file, const char* path, const H5::CompType& type,
                              Record (*from)(const Row&)) {
    const H5::DataSet table = open_dataset(file, path, H5T_COMPOUND, 1);
    const hsize_t count = extent_of(table)[0];
    require_at_most(std::string("rows in ") + path, count, kMostRows);
    std::vector<Row> rows(count);
    std::vector<Record> records;
    if (count == 0) return records;
    table.read(rows.data(), type);
    // HDF5 has allocated the texts of the rows; this gives them back however the turning ends.
    const auto give_back = [&](Row* first) {
        H5Dvlen_reclaim(type.getId(), table.getSpace().getId(), H5P_DEFAULT, first);
    };
    const std::unique_ptr<Row, decltype(give_back)> keeper(rows.data(), give_back);
    for (const Row& row : rows) records.push_back(from(row));
    return records;
}

}  // namespace

void create_tables(H5::H5File& file) {
    create_table(file, "flag",
                 {kFlagsPath, "1",
                  "flags raised: day since the start, share of the harm, indices of colony and "
                  "culprit, detail as JSON"},
                 flag_type());
    create_table(
        file, "event",
        {kEventsPath, "1", "what happened: day since the start, index of the colony or -1"},
        event_type());
}

void write_flags(H5::H5File& file, CalendarDay start, const std::vector<Flag>& flags) {
    std::vector<std::string> details;
    details.reserve(flags.size());
    for (const auto& flag : flags) details.push_back(json_of(flag));
    std::vector<StoredFlag> rows;
    rows.reserve(flags.size());
    for (std::size_t i = 0; i < flags.size(); ++i)
        rows.push_back(stored(flags[i], details[i], start));
    write_rows(file, kFlagsPath, flag_type(), rows);
}

void write_events(H5::H5File& file, CalendarDay start, const std::vector<EventRecord>& events) {
    std::vector<StoredEvent> rows;
    rows.reserve(events.size());
    for (const auto& event : events) rows.push_back(stored(event, start));
    write_rows(file, kEventsPath, event_type(), rows);
}

std::vector<Flag> read_flags(const H5::H5File& file) {
    return read_rows(file, kFlagsPath, flag_type(), flag_from);
}

std::vector<EventRecord> read_events(const H5::H5File& file) {
    return read_rows(file, kEventsPath, event_type(), event_from);
}

}  // namespace bedshade
