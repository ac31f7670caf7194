#include "sim/input/photometry/photometry_angles.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "model/base/geometry.h"

#include "sim/input/text/table_reader.h"

namespace bedshade {
namespace {

/// Files round their angles.
constexpr double kSlack_deg = 1e-3;

struct Span {
    double from_deg, to_deg;
};
using Spans = std::vector<Span>;

bool near(double a, double b) { return std::abs(a - b) <= kSlack_deg; }

const Spans& vertical_spans(PhotometricType type) {
    static const Spans c = {{0, 90}, {0, 180}, {90, 180}}, b = {{0, 90}, {-90, 90}};
    return type == PhotometricType::c ? c : b;
}

const Spans& horizontal_spans(PhotometricType type) {
    static const Spans c = {{0, 0}, {0, 90}, {0, 180}, {90, 270}, {0, 360}},
                       b = {{0, 90}, {-90, 90}};
    return type == PhotometricType::c ? c : b;
}

std::string describe(const Span& span) {
    if (span.from_deg == span.to_deg) return fmt::format("{} alone", format_number(span.from_deg));
    return fmt::format("{} to {}", format_number(span.from_deg), format_number(span.to_deg));
}

std::string describe(const Spans& spans) {
    std::string words;
    for (std::size_t i = 0; i < spans.size(); ++i) {
        if (i > 0) words += i + 1 == spans.size() ? " or " : ", ";
        words += describe(spans[i]);
    }
    return words;
}

std::optional<AngleFault> fault_in(const char* name, const Spans& spans, PhotometricType type,
                                   const std::vector<double>& angles) {
    const Span found{angles.front(), angles.back()};
    for (const Span& span : spans)
        if (near(span.from_deg, found.from_deg) && near(span.to_deg, found.to_deg)) return {};
    return AngleFault{
        fmt::format("the {} angles cover {} degrees", name, describe(found)),
        fmt::format("type {} covers {}", type == PhotometricType::c ? "C" : "B", describe(spans))};
}

/// A direction of the unfolded web and the measured one it equals.
struct Angle {
    double deg;
    std::size_t measured;
};
using Angles = std::vector<Angle>;

Angles as_measured(const std::vector<double>& deg) {
    Angles angles;
    for (std::size_t i = 0; i < deg.size(); ++i) angles.push_back({deg[i], i});
    return angles;
}

/// With the mirror image of every angle but those that lie on the mirror.
Angles mirrored(Angles angles, double about_deg) {
    const std::size_t count = angles.size();
    for (std::size_t i = 0; i < count; ++i)
        if (const Angle a = angles[i]; !near(a.deg, about_deg))
            angles.push_back({2.0 * about_deg - a.deg, a.measured});
    std::sort(angles.begin(), angles.end(),
              [](const Angle& a, const Angle& b) { return a.deg < b.deg; });
    return angles;
}

Angles unfolded_b(const std::vector<double>& deg) {
    return near(deg.front(), 0.0) ? mirrored(as_measured(deg), 0.0) : as_measured(deg);
}

Angles unfolded_planes(const MeasuredAngles& measured) {
    const auto& deg = measured.horizontal_deg;
    if (measured.type == PhotometricType::b) return unfolded_b(deg);
    if (deg.size() == 1) return {{0.0, 0}, {360.0, 0}};
    Angles angles = as_measured(deg);
    if (near(deg.back(), 90.0)) angles = mirrored(std::move(angles), 90.0);
    if (near(deg.back(), 270.0)) return mirrored(std::move(angles), 270.0);
    if (!near(deg.back(), 360.0)) angles = mirrored(std::move(angles), 180.0);
    return angles;
}

Angles unfolded_in_plane(const MeasuredAngles& measured) {
    if (measured.type == PhotometricType::c) return as_measured(measured.vertical_deg);
    // The pole lies at 90 degrees, and the web counts from it.
    Angles angles = unfolded_b(measured.vertical_deg);
    for (Angle& angle : angles) angle.deg = 90.0 - angle.deg;
    std::reverse(angles.begin(), angles.end());
    return angles;
}

/// In radians, with the ends where the spans have them.
std::vector<double> in_radians(const Angles& angles) {
    std::vector<double> out;
    for (const Angle& a : angles) out.push_back(a.deg * kPi / 180.0);
    for (double* end : {&out.front(), &out.back()}) {
        const double quarters = std::round(*end / (0.5 * kPi));
        *end = 0.5 * kPi * quarters;
    }
    return out;
}

}  // namespace

std::optional<AngleFault> fault_in_vertical(PhotometricType type,
                                            const std::vector<double>& vertical_deg) {
    return fault_in("vertical", vertical_spans(type), type, vertical_deg);
}

std::optional<AngleFault> fault_in_horizontal(PhotometricType type,
                                              const std::vector<double>& horizontal_deg) {
    return fault_in("horizontal", horizontal_spans(type), type, horizontal_deg);
}

std::size_t unfolded_size(const MeasuredAngles& measured) {
    return unfolded_planes(measured).size() * unfolded_in_plane(measured).size();
}

PhotometricWeb unfolded(const MeasuredAngles& measured) {
    const Angles planes = unfolded_planes(measured), in_plane = unfolded_in_plane(measured);
    PhotometricWeb web;
    web.pole = measured.type == PhotometricType::c ? PhotometricWeb::Pole::axis
                                                   : PhotometricWeb::Pole::width;
    web.turn_rad = in_radians(planes);
    web.polar_rad = in_radians(in_plane);
    for (const Angle& plane : planes)
        for (const Angle& angle : in_plane)
            web.intensity.push_back(
                measured.candela[plane.measured * measured.vertical_deg.size() + angle.measured]);
    return web;
}

}  // namespace bedshade
