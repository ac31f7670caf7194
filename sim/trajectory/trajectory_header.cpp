#include "sim/trajectory/trajectory_header.h"

#include <algorithm>
#include <fmt/core.h>
#include <system_error>

#include "sim/base/calendar.h"
#include "sim/base/sha256.h"
#include "sim/base/text.h"
#include "sim/trajectory/hdf5_reader.h"
#include "sim/trajectory/hdf5_screen.h"

namespace bedshade {

namespace fs = std::filesystem;

namespace {

// Far beyond any run, but small enough that a broken file cannot ask for all memory.
constexpr hsize_t kMostMembers = 1'000'000;
constexpr hsize_t kMostColonies = 1'000'000;
constexpr hsize_t kMostCellsAlong = 10'000;
constexpr hsize_t kMostStates = 1'000;
constexpr hsize_t kMostFlowPoints = 100'000'000;

void require_file(const fs::path& path) {
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) throw Mismatch("there is no such file");
    if (fs::is_directory(status)) throw Mismatch("it is a folder");
    if (!H5::H5File::isHdf5(path.string())) throw Mismatch("it is not an HDF5 file");
    screen_hdf5(path);
}

void check_format(const H5::H5File& file) {
    if (!file.attrExists("format") || text_attribute(file, "format") != kTrajectoryFormat)
        throw Mismatch("it is an HDF5 file, but not a bedshade trajectory");
    const auto version = number_attribute(file, "format_version");
    if (version > kTrajectoryVersion)
        throw Mismatch(fmt::format("its format version is {}, and this program reads up to {}",
                                   version, kTrajectoryVersion));
}

/// A text that comes with its fingerprint.
std::string checked_text(const H5::H5File& file, const std::string& name) {
    std::string text = text_attribute(file, name + "_text");
    if (sha256_hex(text) != text_attribute(file, name + "_sha256"))
        throw Mismatch(fmt::format("its {0}_text does not match {0}_sha256", name));
    return text;
}

RunProvenance read_facts(const H5::H5File& file) {
    const hsize_t members = extent_of(open_dataset(file, "/member", H5T_INTEGER, 1))[0];
    require_at_most("members", members, kMostMembers);
    return {number_attribute(file, "seed"),
            static_cast<int>(members),
            text_attribute(file, "program_version"),
            text_attribute(file, "model_version"),
            checked_text(file, "layout"),
            checked_text(file, "traits")};
}

CalendarDay read_start(const H5::H5File& file) {
    const std::string text = text_attribute(file, "calendar_start");
    const auto start = parse_calendar_day(text);
    if (!start)
        throw Mismatch(fmt::format("its calendar_start '{}' is not a date", escape_control(text)));
    return *start;
}

Form form_called(const std::string& name) {
    const auto found = std::find_if(kForms.begin(), kForms.end(),
                                    [&](Form form) { return name == to_string(form); });
    if (found == kForms.end())
        throw Mismatch(fmt::format("its growth form '{}' is unknown", escape_control(name)));
    return *found;
}

std::vector<ColonyFacts> read_colonies(const H5::H5File& file) {
    const auto name = read_texts(file, "/colony/name", kMostColonies);
    const auto taxon = read_texts(file, "/colony/taxon", kMostColonies);
    const auto form = read_texts(file, "/colony/form", kMostColonies);
    const auto on = read_texts(file, "/colony/on", kMostColonies);
    const auto azimuth_rad = read_numbers(file, "/colony/facing_azimuth", kMostColonies);
    const auto tilt_rad = read_numbers(file, "/colony/facing_tilt", kMostColonies);
    for (const auto size :
         {taxon.size(), form.size(), on.size(), azimuth_rad.size(), tilt_rad.size()})
        if (size != name.size()) throw Mismatch("its lists of colonies differ in length");
    std::vector<ColonyFacts> colonies;
    for (std::size_t i = 0; i < name.size(); ++i)
        colonies.push_back(
            {name[i], taxon[i], form_called(form[i]), on[i], azimuth_rad[i], tilt_rad[i]});
    return colonies;
}

BedGrid read_bed_grid(const H5::H5File& file) {
    const auto x_m = read_numbers(file, "/bed/x", kMostCellsAlong);
    const auto y_m = read_numbers(file, "/bed/y", kMostCellsAlong);
    if (x_m.empty() || y_m.empty()) throw Mismatch("its bed has no cells");
    return {static_cast<int>(x_m.size()), static_cast<int>(y_m.size()), 2.0 * x_m[0], 2.0 * y_m[0]};
}

void read_flow_values(const H5::H5File& file, const std::string& path,
                      const std::vector<hsize_t>& expected, std::vector<float>& values) {
    const H5::DataSet dataset =
        open_dataset(file, path, H5T_FLOAT, static_cast<int>(expected.size()));
    if (extent_of(dataset) != expected)
        throw Mismatch(fmt::format("{} differs in size from its grid", path));
    if (!values.empty()) dataset.read(values.data(), H5::PredType::NATIVE_FLOAT);
}

}  // namespace

H5::H5File open_trajectory(const fs::path& path) {
    require_file(path);
    H5::FileAccPropList access;
    // Room for a whole chunk of any dataset, so that walking through snapshots unpacks it once.
    access.setCache(0, 521, std::size_t{4} << 20U, 0.75);
    H5::H5File file(path.string(), H5F_ACC_RDONLY, H5::FileCreatPropList::DEFAULT, access);
    check_format(file);
    return file;
}

TrajectoryHeader read_header(const H5::H5File& file) {
    return {number_attribute(file, "complete") != 0,
            text_attribute(file, "title"),
            read_start(file),
            read_facts(file),
            read_colonies(file),
            read_bed_grid(file)};
}

bool has_flow(const H5::H5File& file) { return file.nameExists("/flow"); }

FlowSample read_flow(const H5::H5File& file) {
    FlowSample flow;
    flow.x_m = read_numbers(file, "/flow/x", kMostCellsAlong);
    flow.y_m = read_numbers(file, "/flow/y", kMostCellsAlong);
    flow.z_m = read_numbers(file, "/flow/z", kMostCellsAlong);
    const hsize_t states = extent_of(open_dataset(file, "/flow/state", H5T_INTEGER, 1))[0];
    require_at_most("states of flow", states, kMostStates);
    flow.states = static_cast<int>(states);
    require_at_most("points of flow", flow.points(), kMostFlowPoints);
    flow.velocity_m_s.resize(3 * flow.points());
    flow.turbulent_speed_m_s.resize(flow.points());
    std::vector<hsize_t> grid = {states, flow.z_m.size(), flow.y_m.size(), flow.x_m.size()};
    read_flow_values(file, "/flow/turbulent_speed", grid, flow.turbulent_speed_m_s);
    grid.push_back(3);
    read_flow_values(file, "/flow/velocity", grid, flow.velocity_m_s);
    return flow;
}

}  // namespace bedshade
