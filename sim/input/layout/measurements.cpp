#include "sim/input/layout/measurements.h"

#include <algorithm>
#include <fmt/format.h>

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/input/text/csv_table.h"

namespace bedshade {
namespace {

constexpr double kMostPpfd = 5000.0;  // twice the sun's
constexpr double kFarDays = 36525.0;

std::optional<double> day_in(CsvTable& table, std::size_t row, const Layout& layout) {
    const std::string text = table.text(row, "on");
    const auto day = parse_calendar_day(text);
    if (day) return days_since(layout.season.start, *day);
    table.error(row, "on", fmt::format("on is '{}', but must be a date", escape_control(text)),
                "write 2027-03-01");
    return std::nullopt;
}

std::optional<Sensor> sensor_in(CsvTable& table, std::size_t row) {
    const std::string word = table.text(row, "sensor");
    if (word.empty() || word == "planar") return Sensor::planar;
    if (word == "scalar") return Sensor::scalar;
    table.error(row, "sensor", fmt::format("sensor is '{}'", escape_control(word)),
                "allowed: planar, scalar");
    return std::nullopt;
}

bool lies_in_water(CsvTable& table, std::size_t row, const Vec3& at_m, const Tank& tank) {
    const std::array<double, 3> most_m = {tank.length_m, tank.width_m, tank.water_depth_m};
    const std::array<const char*, 3> column = {"x_cm", "y_cm", "z_cm"};
    bool inside = true;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double value_m = at_m[static_cast<Eigen::Index>(axis)];
        if (value_m >= 0.0 && value_m <= most_m[axis]) continue;
        table.error(row, column[axis],
                    fmt::format("{} is {}, outside the tank's water", column[axis],
                                format_number(100.0 * value_m)),
                    fmt::format("allowed: 0 to {}", format_number(100.0 * most_m[axis])));
        inside = false;
    }
    return inside;
}

std::optional<Reading> reading_in(CsvTable& table, std::size_t row, const Layout& layout) {
    constexpr Range kAnywhere{-1e6, 1e6};
    const auto x = table.number(row, "x_cm", kAnywhere), y = table.number(row, "y_cm", kAnywhere);
    const auto z = table.number(row, "z_cm", kAnywhere);
    const auto ppfd = table.number(row, "ppfd_umol_m2_s", {0.0, kMostPpfd});
    const auto immersion = table.number(row, "immersion", {0.5, 2.0}, 1.0);
    const auto sensor = sensor_in(table, row);
    const bool is_dated = !table.text(row, "on").empty();
    const auto day = is_dated ? day_in(table, row, layout) : std::optional(0.0);
    if (!x || !y || !z || !ppfd || !immersion || !sensor || !day) return std::nullopt;
    if (std::abs(*day) > kFarDays) {
        table.error(row, "on", "this day is more than a century from the start of the run");
        return std::nullopt;
    }
    Reading reading;
    reading.at_m = Vec3(*x, *y, *z) / 100.0;
    reading.ppfd_umol_m2_s = *ppfd * *immersion;
    reading.on_d = *day;
    reading.sensor = *sensor;
    if (!lies_in_water(table, row, reading.at_m, layout.tank)) return std::nullopt;
    return reading;
}

std::optional<int> colony_in(CsvTable& table, std::size_t row, const Layout& layout) {
    const std::string name = table.text(row, "colony");
    std::vector<std::string> names;
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        if (layout.colonies[i].name == name) return static_cast<int>(i);
        names.push_back(layout.colonies[i].name);
    }
    const std::string near = nearest_name(name, names);
    table.error(row, "colony", fmt::format("the layout has no colony '{}'", escape_control(name)),
                near.empty() ? "" : fmt::format("did you mean '{}'?", escape_control(near)));
    return std::nullopt;
}

std::optional<MeasuredDiameter> diameter_in(CsvTable& table, std::size_t row,
                                            const Layout& layout) {
    const auto colony = colony_in(table, row, layout);
    const auto day = day_in(table, row, layout);
    const auto across_cm = table.number(row, "diameter_cm", {0.1, 500.0});
    if (!colony || !day || !across_cm) return std::nullopt;
    const double horizon_d = layout.season.months * kDaysPerMonth;
    if (*day <= 0.0 || *day > horizon_d) {
        table.error(row, "on",
                    "this day is outside the run; the sizes of the layout are those at its start",
                    fmt::format("allowed: after {}, to {}", to_string(layout.season.start),
                                date_at(layout.season.start, horizon_d)));
        return std::nullopt;
    }
    return MeasuredDiameter{*colony, *day, *across_cm / 100.0};
}

template <class Item, class Read>
std::vector<Item> all_rows(CsvTable& table, const Layout& layout, Diagnostics& diagnostics,
                           Read read) {
    std::vector<Item> items;
    for (std::size_t row = 0; row < table.rows(); ++row)
        if (auto item = read(table, row, layout)) items.push_back(*item);
    diagnostics.throw_if_any();
    return items;
}

}  // namespace

std::vector<Reading> read_meter_readings(const std::filesystem::path& path, const Layout& layout) {
    Diagnostics diagnostics;
    CsvTable table(path, {"x_cm", "y_cm", "z_cm", "ppfd_umol_m2_s"}, {"on", "sensor", "immersion"},
                   diagnostics);
    return all_rows<Reading>(table, layout, diagnostics, reading_in);
}

std::vector<MeasuredDiameter> read_diameters(const std::filesystem::path& path,
                                             const Layout& layout) {
    Diagnostics diagnostics;
    CsvTable table(path, {"colony", "on", "diameter_cm"}, {}, diagnostics);
    return all_rows<MeasuredDiameter>(table, layout, diagnostics, diameter_in);
}

}  // namespace bedshade
