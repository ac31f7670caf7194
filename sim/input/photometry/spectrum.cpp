#include "sim/input/photometry/spectrum.h"

#include <cmath>
#include <fmt/format.h>

#include "sim/base/number_text.h"
#include "sim/base/text.h"
#include "sim/input/layout/resolve.h"
#include "sim/input/text/text_file.h"

namespace bedshade {
namespace {

/// Shares are typed by hand to two digits.
constexpr double kShareSlack = 0.02;
constexpr Range kPeaks{400.0, 700.0};
constexpr Range kColourTemperatures{1500.0, 40000.0};
constexpr Range kTabulated{200.0, 1100.0};
constexpr std::size_t kMostPoints = 10000;

bool holds(Range range, double value) { return value >= range.low && value <= range.high; }

std::optional<double> trimmed_number(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\r')) text.remove_suffix(1);
    return number_in(text);
}

/// "white 14000 K".
std::optional<double> white_K(std::string_view key) {
    constexpr std::string_view kWhite = "white ", kKelvin = " K";
    if (key.size() <= kWhite.size() + kKelvin.size() || key.substr(0, kWhite.size()) != kWhite ||
        key.substr(key.size() - kKelvin.size()) != kKelvin)
        return std::nullopt;
    return trimmed_number(key.substr(kWhite.size(), key.size() - kWhite.size() - kKelvin.size()));
}

std::variant<SpectrumPart, ParseError> part_named(std::string_view key) {
    SpectrumPart part;
    if (const auto kelvin = white_K(key)) {
        if (!holds(kColourTemperatures, *kelvin))
            return ParseError{"has a colour temperature outside 1500 to 40000 K", {}};
        part.colour_temperature_K = *kelvin;
        return part;
    }
    const auto peak = read_quantity(key, kWavelength);
    if (std::holds_alternative<ParseError>(peak))
        return ParseError{"is not a colour of light",
                          "colours are written \"450 nm\" or \"white 14000 K\""};
    if (!holds(kPeaks, std::get<0>(peak)))
        return ParseError{"is outside 400 to 700 nm", "photon_flux and shares are of 400-700 nm"};
    part.peak_nm = std::get<0>(peak);
    return part;
}

void read_shares(TableReader& in, Lamp& lamp) {
    const auto* table = in.node("spectrum") ? in.node("spectrum")->as_table() : nullptr;
    auto shares = in.child("spectrum");
    if (!shares || table == nullptr) return;
    double sum = 0.0;
    bool all_good = true;
    for (auto&& [key, value] : *table) {
        auto part = part_named(key.str());
        if (const auto* parse_error = std::get_if<ParseError>(&part)) {
            in.diagnostics().error(place_of(key),
                                   fmt::format("`{}` in {} {}", escape_control(key.str()),
                                               shares->name(), parse_error->what),
                                   parse_error->help);
            all_good = false;
        }
        double share = 0.0;
        all_good &= shares->number(key.str(), share, kShare);
        sum += share;
        if (auto* good = std::get_if<SpectrumPart>(&part)) {
            good->share = share;
            lamp.spectrum.push_back(*good);
        }
    }
    if (all_good && std::abs(sum - 1.0) > kShareSlack)
        in.error("spectrum", fmt::format("the shares of {} add up to {}, not to 1", shares->name(),
                                         format_number(sum)));
    for (auto& part : lamp.spectrum) part.share /= sum > 0.0 ? sum : 1.0;
}

/// The error in a tabulated spectrum, or nothing.
std::string fault_in(const SpectrumTable& table) {
    const auto& nm = table.wavelength_nm;
    double counted = 0.0;
    for (std::size_t i = 0; i < nm.size(); ++i) {
        if (!holds(kTabulated, nm[i])) return "has a wavelength outside 200 to 1100 nm";
        if (i > 0 && nm[i] <= nm[i - 1]) return "has wavelengths that do not increase";
        if (table.photons[i] < 0.0) return "has a negative number of photons";
        if (holds(kPeaks, nm[i])) counted += table.photons[i];
    }
    if (nm.size() < 2) return "has fewer than two points";
    if (nm.size() > kMostPoints) return fmt::format("has more than {} points", kMostPoints);
    if (!std::isfinite(counted) || counted <= 0.0) return "has no photons in 400 to 700 nm";
    return {};
}

bool add_row(std::string_view line, SpectrumTable& table) {
    const std::size_t comma = line.find(',');
    if (comma == std::string_view::npos) return false;
    const auto nm = trimmed_number(line.substr(0, comma));
    const auto photons = trimmed_number(line.substr(comma + 1));
    if (!nm || !photons) return false;
    table.wavelength_nm.push_back(*nm);
    table.photons.push_back(*photons);
    return true;
}

/// Reads the rows under the heading `wavelength_nm,photons`; reports an error and returns nothing
/// when a row is invalid.
std::optional<SpectrumTable> table_in(std::string_view text, const std::string& file,
                                      Diagnostics& diagnostics) {
    diagnostics.remember(file, text);
    SpectrumTable table;
    for (int number = 1; !text.empty(); ++number) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        const bool heading = number == 1 && line.rfind("wavelength_nm", 0) == 0;
        const bool empty = line.empty() || line == "\r" || line.front() == '#';
        if (heading || empty || add_row(line, table)) continue;
        diagnostics.error({file, number, 1}, "this row is not a wavelength and a number of photons",
                          "write rows such as 450,1.25 under the heading wavelength_nm,photons");
        return std::nullopt;
    }
    return table;
}

void read_table_file(TableReader& in, Lamp& lamp) {
    std::string written;
    if (!in.text("spectrum_file", written)) return;
    const auto path = path_beside(*in.node("spectrum_file"), written);
    const auto text = read_text_file(path, in.place("spectrum_file"), in.diagnostics());
    auto table = text ? table_in(*text, path.string(), in.diagnostics()) : std::nullopt;
    if (!table) return;
    if (const auto fault = fault_in(*table); !fault.empty())
        in.error("spectrum_file", fmt::format("{} {}", in.label("spectrum_file"), fault));
    else
        lamp.spectrum_table = std::move(table);
}

bool read_numbers(TableReader& in, const char* key, std::vector<double>& into) {
    const auto* found = in.node(key);
    const auto* list = found ? found->as_array() : nullptr;
    if (list)
        for (const auto& item : *list)
            if (const auto value = item.value<double>(); value && std::isfinite(*value))
                into.push_back(*value);
    const bool good = list && into.size() == list->size();
    if (!good)
        in.diagnostics().error(in.place(key),
                               fmt::format("{} must be a list of numbers", in.label(key)));
    return good;
}

void read_points(TableReader& in, Lamp& lamp) {
    auto points = in.child("spectrum_points");
    if (!points) return;
    SpectrumTable table;
    bool good = read_numbers(*points, "wavelength_nm", table.wavelength_nm);
    good &= read_numbers(*points, "photons", table.photons);
    points->finish();
    if (!good) return;
    const std::string fault = table.photons.size() != table.wavelength_nm.size()
                                  ? "has lists of different lengths"
                                  : fault_in(table);
    if (!fault.empty())
        in.error("spectrum_points", fmt::format("{} {}", in.label("spectrum_points"), fault));
    else
        lamp.spectrum_table = std::move(table);
}

}  // namespace

void read_spectrum(TableReader& in, Lamp& lamp) {
    const int given =
        int(in.has("spectrum")) + int(in.has("spectrum_file")) + int(in.has("spectrum_points"));
    if (given > 1)
        in.diagnostics().error(in.place(), fmt::format("{} has more than one spectrum", in.name()),
                               "give spectrum, spectrum_file or spectrum_points");
    read_shares(in, lamp);
    read_table_file(in, lamp);
    read_points(in, lamp);
}

}  // namespace bedshade
