#include "model/growth/light_day.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kMolPerUmolHour = 0.0036;

/// Tolerance for equal outputs.
constexpr double kSameShare = 1e-12;

/// Gauss-Legendre nodes and weights on [-1, 1], n = 4 (Abramowitz & Stegun 1964, table 25.4).
constexpr std::array kNodes = {-0.861136311594052575, -0.339981043584856265, 0.339981043584856265,
                               0.861136311594052575};
constexpr std::array kWeights = {0.347854845137453857, 0.652145154862546143, 0.652145154862546143,
                                 0.347854845137453857};

/// Hours at which any lamp's output begins or stops changing, ascending, without duplicates.
std::vector<double> breakpoints_h(std::span<const LampDay> days) {
    std::vector<double> breakpoints;
    for (const LampDay& day : days) {
        const double middle = 0.5 * (day.on_h + day.off_h);
        breakpoints.insert(breakpoints.end(),
                           {day.on_h, std::min(day.on_h + day.ramp_h, middle),
                            std::max(day.off_h - day.ramp_h, middle), day.off_h});
    }
    std::sort(breakpoints.begin(), breakpoints.end());
    breakpoints.erase(std::unique(breakpoints.begin(), breakpoints.end()), breakpoints.end());
    return breakpoints;
}

std::vector<double> shares_at(std::span<const LampDay> days, double hour) {
    std::vector<double> shares;
    for (const LampDay& day : days) shares.push_back(day.share_at(hour));
    return shares;
}

bool same(std::span<const double> a, std::span<const double> b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](double x, double y) { return std::abs(x - y) <= kSameShare; });
}

std::span<const double> node(const LightDay& day, std::size_t m) {
    return std::span(day.share).subspan(m * day.lamps, day.lamps);
}

void add_node(LightDay& day, const std::vector<double>& shares, double hours) {
    if (std::all_of(shares.begin(), shares.end(), [](double s) { return s <= 0.0; })) return;
    for (std::size_t m = 0; m < day.nodes(); ++m)
        if (same(node(day, m), shares)) {
            day.hours[m] += hours;
            return;
        }
    day.hours.push_back(hours);
    day.share.insert(day.share.end(), shares.begin(), shares.end());
}

/// Between two breakpoints every output is linear in time.
void add_interval(LightDay& day, std::span<const LampDay> days, double from_h, double to_h) {
    const double middle = 0.5 * (from_h + to_h), half = 0.5 * (to_h - from_h);
    const auto at_node = [&](std::size_t n) { return shares_at(days, middle + half * kNodes[n]); };
    if (same(at_node(0), at_node(3))) return add_node(day, shares_at(days, middle), to_h - from_h);
    for (std::size_t n = 0; n < kNodes.size(); ++n) add_node(day, at_node(n), half * kWeights[n]);
}

bool same_day(const LampDay& a, const LampDay& b) {
    return a.on_h == b.on_h && a.off_h == b.off_h && a.ramp_h == b.ramp_h;
}

/// Output on both sides of a breakpoint, since lamps without a ramp switch there.
void add_breakpoint(LightDay& day, std::span<const LampDay> days, double hour) {
    constexpr double kJustInside_h = 1e-9;
    for (const double side : {-kJustInside_h, kJustInside_h})
        for (const LampDay& lamp : days) day.breakpoint_share.push_back(lamp.share_at(hour + side));
}

}  // namespace

LightDay light_day(std::span<const LampDay> days) {
    LightDay day;
    day.lamps = days.size();
    const auto breakpoints = breakpoints_h(days);
    for (std::size_t t = 0; t + 1 < breakpoints.size(); ++t)
        add_interval(day, days, breakpoints[t], breakpoints[t + 1]);
    for (const double breakpoint : breakpoints) add_breakpoint(day, days, breakpoint);
    day.plateau_hours.assign(day.lamps, 0.0);
    for (std::size_t m = 0; m < day.nodes(); ++m)
        for (std::size_t l = 0; l < day.lamps; ++l)
            day.plateau_hours[l] += day.hours[m] * day.share[m * day.lamps + l];
    day.same_schedule = std::all_of(days.begin(), days.end(),
                                    [&](const LampDay& d) { return same_day(d, days.front()); });
    return day;
}

LightDay square_day(double hours_on) {
    const LampDay lamp{0.0, hours_on, 0.0};
    return light_day(std::span(&lamp, 1));
}

double dli_mol_m2_d(const LightDay& day, std::span<const double> plateau_umol_m2_s) {
    assert(plateau_umol_m2_s.size() == day.lamps);
    double umol_hours = 0.0;
    for (std::size_t l = 0; l < day.lamps; ++l)
        umol_hours += plateau_umol_m2_s[l] * day.plateau_hours[l];
    return kMolPerUmolHour * umol_hours;
}

double peak_umol_m2_s(const LightDay& day, std::span<const double> plateau_umol_m2_s) {
    assert(plateau_umol_m2_s.size() == day.lamps);
    double peak = 0.0;
    for (std::size_t first = 0; first < day.breakpoint_share.size(); first += day.lamps) {
        double light = 0.0;
        for (std::size_t l = 0; l < day.lamps; ++l)
            light += day.breakpoint_share[first + l] * plateau_umol_m2_s[l];
        peak = std::max(peak, light);
    }
    return peak;
}

}  // namespace bedshade
