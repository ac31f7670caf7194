#include <array>
#include <cmath>
#include <fmt/format.h>

#include "sim/report/bed_text.h"
#include "sim/report/comparison_report.h"
#include "sim/report/report.h"

namespace bedshade {
namespace {

constexpr double kMgPerCm2 = 100.0;  // of a kg/m2

/// How far a flag moved: in months, within one month in days.
std::string moved_by(const Flag& before, const Flag& after) {
    const char* way = after.day_d < before.day_d ? "sooner" : "later";
    const int months = std::abs(after.month - before.month);
    if (months > 0)
        return fmt::format("{} month{} {}; it was month {}", months, months == 1 ? "" : "s", way,
                           before.month);
    const double days = std::abs(after.day_d - before.day_d);
    if (days > 0.0) return fmt::format("{:.2g} days {}", days, way);
    return "another cause";
}

std::string flag_line(const Arm& before, const Arm& after, const FlagChange& change) {
    if (!change.before)
        return fmt::format("  new    {}\n", flag_text(*after.layout, *change.after));
    if (!change.after)
        return fmt::format("  gone   {}\n", flag_text(*before.layout, *change.before));
    return fmt::format("  moved  {} ({})\n", flag_text(*after.layout, *change.after),
                       moved_by(*change.before, *change.after));
}

std::string flags_text(const Arm& before, const Arm& after, const Comparison& difference) {
    if (difference.flags.empty())
        return before.flags.empty() ? "No flag is raised with or without the change.\n"
                                    : "The flags are the same with and without the change.\n";
    std::string text = "Flags that differ\n";
    for (const FlagChange& change : difference.flags) text += flag_line(before, after, change);
    return text;
}

/// The values of the table of corals.
struct Column {
    const char* heading;
    double ColonyMeans::*value;
    double factor;
    int digits;
};
constexpr std::array kColumns = {
    Column{"daily light", &ColonyMeans::dli_mol_m2_d, 1.0, 2},
    Column{"flow", &ColonyMeans::flow_speed_m_s, 100.0, 1},
    Column{"sand deposition", &ColonyMeans::deposition_kg_m2_d, kMgPerCm2, 1},
    Column{"most sand on it", &ColonyMeans::most_sand_kg_m2, kMgPerCm2, 1},
    Column{"end diameter", &ColonyMeans::end_diameter_m, 100.0, 1},
    Column{"end alive", &ColonyMeans::end_live_fraction, 100.0, 0}};
constexpr int kColumnWidth = 17;

std::string shown(const std::optional<ColonyMeans>& season, const Column& column) {
    if (!season) return "none";
    return fmt::format("{:.{}f}", column.factor * (*season).*column.value, column.digits);
}

/// One value of both runs; once where it reads the same.
std::string both(const ColonyChange& change, const Column& column) {
    const std::string before = shown(change.before, column), after = shown(change.after, column);
    return before == after ? before : fmt::format("{} > {}", before, after);
}

bool reads_otherwise(const ColonyChange& change) {
    for (const Column& column : kColumns)
        if (shown(change.before, column) != shown(change.after, column)) return true;
    return false;
}

std::string colony_row(const ColonyChange& change) {
    std::string text = fmt::format("  {:<24}", truncate(change.name, 23));
    for (const Column& column : kColumns)
        text += fmt::format("{:>{}}", both(change, column), kColumnWidth);
    return text + "\n";
}

std::string colonies_text(const Comparison& difference) {
    std::string rows;
    int hidden = 0;
    for (const ColonyChange& change : difference.colonies) {
        if (reads_otherwise(change))
            rows += colony_row(change);
        else
            ++hidden;
    }
    std::string text;
    if (!rows.empty()) {
        text +=
            "\nCorals that differ (without > with the change; means over the run: daily light in "
            "mol m-2,\nflow in cm/s, sand deposition in mg cm-2 a day; most sand on it in mg cm-2; "
            "diameter in cm and % alive at the end)\n";
        text += fmt::format("  {:<24}", "name");
        for (const Column& column : kColumns)
            text += fmt::format("{:>{}}", column.heading, kColumnWidth);
        text += "\n" + rows;
    }
    if (hidden > 0)
        text += fmt::format("  {} more differ{} by less than these digits show.\n", hidden,
                            hidden == 1 ? "s" : "");
    return text;
}

/// A map in so few columns that two stand side by side.
class CoarseMap {
  public:
    explicit CoarseMap(const BedGrid& grid) : grid_(grid) {
        constexpr int kMostColumns = 8;
        stride_x_ = std::max(1, (grid.nx + kMostColumns - 1) / kMostColumns);
        const double wide_m = stride_x_ * grid.cell_x_m;
        stride_y_ = std::max(1, static_cast<int>(std::lround(wide_m / grid.cell_y_m)));
    }

    int rows() const { return (grid_.ny + stride_y_ - 1) / stride_y_; }
    int columns() const { return (grid_.nx + stride_x_ - 1) / stride_x_; }

    /// The mean over a coarse cell; rows from the back of the tank.
    double mean(const std::vector<double>& map, int row, int column) const {
        const int top = grid_.ny - 1 - row * stride_y_, low = std::max(0, top - stride_y_ + 1);
        const int left = column * stride_x_, right = std::min(grid_.nx, left + stride_x_);
        double sum = 0.0;
        for (int j = low; j <= top; ++j)
            for (int i = left; i < right; ++i) sum += map[grid_.index(i, j)];
        return sum / ((top - low + 1) * (right - left));
    }

    double y_cm(int row) const {
        const int top = grid_.ny - 1 - row * stride_y_, low = std::max(0, top - stride_y_ + 1);
        return 50.0 * (grid_.y_m(low) + grid_.y_m(top));
    }

  private:
    BedGrid grid_;
    int stride_x_ = 1, stride_y_ = 1;
};

/// With so many digits; a sign before nothing but zeros says nothing.
std::string fixed(double value, int digits) {
    const std::string text = fmt::format("{:.{}f}", value, digits);
    return text.find_first_of("123456789") == std::string::npos && text[0] == '-' ? text.substr(1)
                                                                                  : text;
}

std::string map_row(const CoarseMap& coarse, const std::vector<double>& map, double factor,
                    int digits, int row) {
    std::string text;
    for (int column = 0; column < coarse.columns(); ++column)
        text += fmt::format("{:>7}", fixed(factor * coarse.mean(map, row, column), digits));
    return text;
}

/// Both runs' maps; nothing where they read the same.
std::string maps_text(const Arm& before, const Arm& after, const char* what,
                      const std::vector<double> BedMeans::*map, double factor, int digits) {
    const CoarseMap left(before.grid), right(after.grid);
    std::string text = fmt::format("  {}\n", what);
    bool differs = left.rows() != right.rows() || left.columns() != right.columns();
    for (int row = 0; row < std::max(left.rows(), right.rows()); ++row) {
        const std::string a =
            row < left.rows() ? map_row(left, before.bed.*map, factor, digits, row) : "";
        const std::string b =
            row < right.rows() ? map_row(right, after.bed.*map, factor, digits, row) : "";
        differs = differs || a != b;
        text += fmt::format("    y {:>3.0f} cm {} | {}\n",
                            row < left.rows() ? left.y_cm(row) : right.y_cm(row), a, b);
    }
    return differs ? text : "";
}

/// A run whose maps of sand are those of the bed's height.
Arm with_net_change_in_mm(Arm arm) {
    arm.bed.net_change_kg_m2_d =
        net_change_mm_month(arm.layout->substrate, arm.bed.net_change_kg_m2_d);
    return arm;
}

std::string net_change_maps_text(const Arm& before, const Arm& after) {
    return maps_text(with_net_change_in_mm(before), with_net_change_in_mm(after),
                     "net bed change, mm a month", &BedMeans::net_change_kg_m2_d, 1.0, 1);
}

std::string bed_text(const Arm& before, const Arm& after) {
    std::string text =
        maps_text(before, after, "bed shear stress, mPa", &BedMeans::shear_stress_Pa, 1000.0, 1) +
        maps_text(before, after, "sand deposition, mg cm-2 a day", &BedMeans::deposition_kg_m2_d,
                  kMgPerCm2, 2) +
        net_change_maps_text(before, after) +
        maps_text(before, after, "light (PPFD), umol m-2 s-1", &BedMeans::ppfd_umol_m2_s, 1.0, 0);
    if (text.empty()) return "";
    return "\nThe bed, means over the run, back of the tank at the top: without the change | with "
           "it\n" +
           text;
}

/// Where sand goes, where that is otherwise, and the rock that it endangers with the change or
/// without: that is a caution, told even where both runs have it.
std::string net_change_text(const Arm& before, const Arm& after) {
    const auto net_change = [](const Arm& arm) {
        return bed_change_text(*arm.layout, arm.grid, arm.bed.net_change_kg_m2_d);
    };
    const auto rock = [](const Arm& arm) {
        return undermined_text(*arm.layout, arm.grid, arm.bed.net_change_kg_m2_d);
    };
    const std::string without = net_change(before) + rock(before),
                      with = net_change(after) + rock(after);
    if (without != with)
        return fmt::format("\nWithout the change. {}With the change. {}", without, with);
    const std::string both = rock(after);
    return both.empty() ? both : fmt::format("\n{}", both);
}

}  // namespace

std::string comparison_text(const Arm& before, const Arm& after, const Comparison& difference) {
    if (difference.same()) return "Nothing differs: both runs are identical to the last bit.\n";
    return flags_text(before, after, difference) + colonies_text(difference) +
           bed_text(before, after) + net_change_text(before, after);
}

}  // namespace bedshade
