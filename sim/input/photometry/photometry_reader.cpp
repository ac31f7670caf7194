#include "sim/input/photometry/photometry_reader.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <fmt/format.h>
#include <utility>

#include "model/light/photometric_beam.h"

#include "sim/base/text.h"
#include "sim/input/photometry/photometry_angles.h"
#include "sim/input/text/number_stream.h"

namespace bedshade {
namespace {

constexpr int kMostAngles = 721;  // half degrees, all round
constexpr int kMostTilts = 181;
constexpr double kLeastStep_deg = 0.01;
constexpr double kMetresPerFoot = 0.3048;
constexpr double kLargestOpening_m = 10.0;
constexpr double kLeastLumens = 1e-6;

struct VersionLine {
    std::string_view line;
    PhotometryVersion version;
};
constexpr std::array kVersionLines = {
    VersionLine{"IESNA91", PhotometryVersion::of_1991},
    VersionLine{"IESNA:LM-63-1995", PhotometryVersion::of_1995},
    VersionLine{"IESNA:LM-63-2002", PhotometryVersion::of_2002},
    VersionLine{"IES:LM-63-2019", PhotometryVersion::of_2019},
};
constexpr const char* kVersionsRead =
    "supported: IESNA91, IESNA:LM-63-1995, IESNA:LM-63-2002, IES:LM-63-2019, and files of 1986, "
    "which have no such line";

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::string upper(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    return out;
}

/// The text's lines, one by one.
class Lines {
  public:
    explicit Lines(std::string_view text) : text_(text) {}

    bool next() {
        if (at_ >= text_.size()) return false;
        const std::size_t end = std::min(text_.find('\n', at_), text_.size());
        line_ = trimmed(text_.substr(at_, end - at_));
        at_ = std::min(end + 1, text_.size());
        ++number_;
        return true;
    }
    std::string_view line() const { return line_; }
    int number() const { return number_; }
    std::size_t behind() const { return at_; }

  private:
    std::string_view text_, line_;
    std::size_t at_ = 0;
    int number_ = 0;
};

/// What follows `TILT=`, in capitals; nothing for another line.
std::optional<std::string> tilt_in(std::string_view line) {
    const auto equals = line.find('=');
    if (equals == std::string_view::npos || equals > 16) return std::nullopt;
    if (upper(trimmed(line.substr(0, equals))) != "TILT") return std::nullopt;
    return upper(trimmed(line.substr(equals + 1)));
}

/// The luminous opening as the lamp's face: a height is left out, so that a box is its mouth, a
/// cylinder or ball its shadow. Negative sizes stand for round ones (LM-63-2002, and from memory
/// for the years before).
void set_opening(Photometry& into, double width_m, double length_m, double height_m) {
    const bool lies =
        height_m < 0.0 && (width_m > 0.0 || length_m > 0.0);  // a cylinder on its side
    const bool round = !lies && (width_m < 0.0 || length_m < 0.0);
    double across = std::abs(width_m), along = std::abs(length_m);
    // A round size may be given once: up to 1991 a disc has no length, a lying cylinder no width.
    if (round || lies) {
        const double other = lies ? std::abs(height_m) : std::max(across, along);
        across = across > 0.0 ? across : other;
        along = along > 0.0 ? along : other;
    }
    if (across == 0.0 && along == 0.0) return;
    into.shape = round ? LampShape::disc : LampShape::rectangle;
    into.size_m = Vec2(along, across);
}

class Reader {
  public:
    Reader(std::string_view text, const std::string& file, Diagnostics& diagnostics)
        : text_(text), file_(file), diagnostics_(diagnostics), lines_(text) {}

    std::optional<Photometry> read() {
        if (!read_version()) return std::nullopt;
        const auto tilt = find_tilt();
        if (!tilt) return std::nullopt;
        NumberStream in(text_, lines_.behind(), lines_.number() + 1, file_, diagnostics_);
        if (*tilt == "INCLUDE") read_tilt(in);
        read_numbers(in);
        if (in.failed()) return std::nullopt;
        photometry_.text = text_;
        std::erase(photometry_.text, '\r');
        return std::move(photometry_);
    }

  private:
    bool read_version() {
        if (text_.size() > kLargestPhotometry) {
            diagnostics_.error({file_},
                               fmt::format("this file has {:.1f} MB",
                                           static_cast<double>(text_.size()) / 1048576.0),
                               "photometry of at most 2 MB is read");
            return false;
        }
        Lines lines(text_);
        lines.next();
        const std::string first = upper(lines.line());
        for (const auto& known : kVersionLines)
            if (first == known.line) photometry_.version = known.version;
        const bool named = first.rfind("IESNA", 0) == 0 || first.rfind("IES:", 0) == 0;
        if (!named || photometry_.version != PhotometryVersion::of_1986) return true;
        diagnostics_.error({file_, 1, 1},
                           fmt::format("`{}` is not a supported version of LM-63",
                                       escape_control(lines.line().substr(0, 40))),
                           kVersionsRead);
        return false;
    }

    /// Skips the keywords; they contain no photometry.
    std::optional<std::string> find_tilt() {
        while (lines_.next()) {
            auto tilt = tilt_in(lines_.line());
            if (!tilt) continue;
            if (*tilt == "NONE" || *tilt == "INCLUDE") return tilt;
            diagnostics_.error({file_, lines_.number(), 1},
                               "TILT names another file, which is not read",
                               "write TILT=NONE, or TILT=INCLUDE and the other file's numbers");
            return std::nullopt;
        }
        diagnostics_.error({file_}, "there is no line TILT=, so this is not an LM-63 file",
                           "TILT=NONE or TILT=INCLUDE must stand above the numbers");
        return std::nullopt;
    }

    /// How the lamp lies in the luminaire, then angles and what the lamp gives at each.
    void read_tilt(NumberStream& in) {
        in.whole("the lamp's place in the luminaire (TILT=INCLUDE)", 1, 3);
        const int pairs = in.whole("the number of tilt angles", 1, kMostTilts);
        photometry_.tilt_deg = rising(in, pairs, "tilt angle", {0.0, 180.0});
        for (int i = 0; i < pairs && !in.failed(); ++i)
            photometry_.tilt_factor.push_back(
                in.number(fmt::format("tilt factor {} of {}", i + 1, pairs), {0.0, 10.0}));
    }

    std::vector<double> rising(NumberStream& in, int count, std::string_view name, Range range) {
        std::vector<double> values;
        for (int i = 0; i < count && !in.failed(); ++i) {
            values.push_back(in.number(fmt::format("{} {} of {}", name, i + 1, count), range));
            if (i > 0 && values[values.size() - 1] < values[values.size() - 2] + kLeastStep_deg)
                in.refuse(
                    fmt::format("{} {} is {}, after {}", name, i + 1, format_number(values.back()),
                                format_number(values[values.size() - 2])),
                    "angles must increase by 0.01 degrees or more");
        }
        return values;
    }

    void read_numbers(NumberStream& in) {
        const int lamps = in.whole("the number of lamps", 1, 1000);
        read_lumens(in, lamps);
        factor_ = in.number("the candela multiplier", {1e-9, 1e9});
        const int vertical = in.whole("the number of vertical angles", 2, kMostAngles);
        const int horizontal = in.whole("the number of horizontal angles", 1, kMostAngles);
        read_type(in);
        read_opening(in);
        read_factors(in);
        read_angles(in, vertical, horizontal);
        read_candela(in);
        in.finish("the last candela value");
        if (!in.failed()) make_web(in);
    }

    void read_lumens(NumberStream& in, int lamps) {
        const double lumens =
            in.number("the number of lumens per lamp",
                      {-1.0, 1e9, "it must be more than 0, or -1 where intensities are absolute"});
        if (lumens != -1.0 && lumens <= 0.0)
            in.refuse(fmt::format("the number of lumens per lamp is {}", format_number(lumens)),
                      "it must be more than 0, or -1 where intensities are absolute");
        photometry_.rated_lumens = lumens > 0.0 ? lamps * lumens : 0.0;
    }

    void read_type(NumberStream& in) {
        measured_.type = static_cast<PhotometricType>(in.whole("the photometric type", 1, 3));
        if (measured_.type == PhotometricType::a)
            in.refuse("this is photometry of type A (3), for headlights",
                      "types C (1) and B (2) are supported");
    }

    void read_opening(NumberStream& in) {
        const int units = in.whole("the unit of length (1 for feet, 2 for metres)", 1, 2);
        const double unit_m = units == 1 ? kMetresPerFoot : 1.0;
        const double most = kLargestOpening_m / unit_m;
        std::array<double, 3> size_m{};
        for (std::size_t i = 0; i < size_m.size(); ++i)
            size_m[i] = unit_m * in.number(std::array{"the width of the luminous opening",
                                                      "the length of the luminous opening",
                                                      "the height of the luminous opening"}[i],
                                           {-most, most});
        if (!in.failed()) set_opening(photometry_, size_m[0], size_m[1], size_m[2]);
    }

    void read_factors(NumberStream& in) {
        factor_ *= in.number("the ballast factor", {1e-3, 1e3});
        // Up to 1991 a factor, since 2019 a code such as 1.10000 that must not be multiplied.
        if (photometry_.version <= PhotometryVersion::of_1991)
            factor_ *= in.number("the ballast-lamp factor", {1e-3, 1e3});
        else
            in.number("the number after the ballast factor", {-1e9, 1e9});
        photometry_.input_watts = in.number("the input power", {0.0, 1e6});
    }

    void read_angles(NumberStream& in, int vertical, int horizontal) {
        measured_.vertical_deg = rising(in, vertical, "vertical angle", {-90.0, 180.0});
        check(in, fault_in_vertical);
        measured_.horizontal_deg = rising(in, horizontal, "horizontal angle", {-90.0, 360.0});
        check(in, fault_in_horizontal);
        if (in.failed()) return;
        if (const std::size_t size = unfolded_size(measured_); size > kMostDirections)
            in.refuse(fmt::format("these angles make {} directions all round", size),
                      fmt::format("at most {} are allowed", kMostDirections));
    }

    template <class Fault>
    void check(NumberStream& in, Fault fault_in) {
        if (in.failed()) return;
        const auto& angles =
            measured_.horizontal_deg.empty() ? measured_.vertical_deg : measured_.horizontal_deg;
        if (const auto fault = fault_in(measured_.type, angles))
            in.refuse(fault->what, fault->help);
    }

    void read_candela(NumberStream& in) {
        const std::size_t vertical = measured_.vertical_deg.size();
        const std::size_t count = vertical * measured_.horizontal_deg.size();
        for (std::size_t i = 0; i < count && !in.failed(); ++i)
            measured_.candela.push_back(
                factor_ *
                in.number(fmt::format("candela value {} of {}", i + 1, count), {0.0, 1e9}));
    }

    void make_web(NumberStream& in) {
        auto web = std::make_shared<PhotometricWeb>(unfolded(measured_));
        if (!(flux_of(*web) >= kLeastLumens))
            in.refuse("the candela values sum to zero", "some of them must be more than 0");
        photometry_.web = std::move(web);
    }

    std::string_view text_;
    const std::string& file_;
    Diagnostics& diagnostics_;
    Lines lines_;
    Photometry photometry_;
    MeasuredAngles measured_;
    double factor_ = 1.0;
};

}  // namespace

std::optional<Photometry> read_photometry(std::string_view text, const std::string& file,
                                          Diagnostics& diagnostics) {
    diagnostics.remember(file, text);
    return Reader(text, file, diagnostics).read();
}

double tilt_factor_at(const Photometry& photometry, double tilt_rad) {
    const auto& deg = photometry.tilt_deg;
    const auto& factor = photometry.tilt_factor;
    if (deg.empty()) return 1.0;
    const double at = std::clamp(tilt_rad * 180.0 / kPi, deg.front(), deg.back());
    const auto above = std::upper_bound(deg.begin(), deg.end() - 1, at);
    const auto i = static_cast<std::size_t>(above - deg.begin());
    if (i == 0) return factor.front();
    return std::lerp(factor[i - 1], factor[i], (at - deg[i - 1]) / (deg[i] - deg[i - 1]));
}

}  // namespace bedshade
