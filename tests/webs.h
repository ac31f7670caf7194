// Photometric webs of made-up lamps, built in code.
#pragma once

#include <cmath>
#include <memory>

#include "model/base/geometry.h"
#include "model/reef/photometric_web.h"

namespace bedshade::test {

/// cos^m about the axis, at even steps over the half sphere.
inline std::shared_ptr<const PhotometricWeb> cosine_web(double exponent, double step_deg) {
    auto web = std::make_shared<PhotometricWeb>();
    web->turn_rad = {0.0, 2.0 * kPi};
    const int steps = static_cast<int>(std::lround(90.0 / step_deg));
    for (int i = 0; i <= steps; ++i) web->polar_rad.push_back(0.5 * kPi * i / steps);
    for (int plane = 0; plane < 2; ++plane)
        for (int i = 0; i <= steps; ++i)
            web->intensity.push_back(
                i == steps ? 0.0 : 1000.0 * std::pow(std::cos(web->polar_rad[i]), exponent));
    return web;
}

/// What `uneven_web` holds at its angles, multiples of 45 and 90 degrees.
inline double web_candela(double polar_deg, double turn_deg) {
    const double turn = turn_deg * kPi / 180.0;
    if (polar_deg == 0.0) return 100.0;
    if (polar_deg == 45.0) return 60.0 + 30.0 * std::cos(turn) + 10.0 * std::sin(turn);
    if (polar_deg == 90.0) return 25.0 + 15.0 * std::cos(turn) - 5.0 * std::sin(turn);
    return polar_deg == 135.0 ? 8.0 : 2.0;
}

/// Type C: another intensity on each side, a tenth or so of it upward.
inline std::shared_ptr<const PhotometricWeb> uneven_web() {
    auto web = std::make_shared<PhotometricWeb>();
    for (int i = 0; i <= 4; ++i) web->polar_rad.push_back(0.25 * kPi * i);
    for (int j = 0; j <= 4; ++j) web->turn_rad.push_back(0.5 * kPi * j);
    for (int j = 0; j <= 4; ++j)
        for (int i = 0; i <= 4; ++i) web->intensity.push_back(web_candela(45.0 * i, 90.0 * j));
    return web;
}

/// Type B: narrow along one way, wide along the other, and leaning.
inline std::shared_ptr<const PhotometricWeb> floodlight_web() {
    auto web = std::make_shared<PhotometricWeb>();
    web->pole = PhotometricWeb::Pole::width;
    for (int i = 0; i <= 6; ++i) web->polar_rad.push_back(kPi * i / 6.0);
    for (int j = -3; j <= 3; ++j) web->turn_rad.push_back(kPi * j / 6.0);
    for (int j = -3; j <= 3; ++j)
        for (int i = 0; i <= 6; ++i)
            web->intensity.push_back((4.0 - std::abs(j) + 0.25 * j) * (i % 6) * (7.0 - i));
    return web;
}

}  // namespace bedshade::test
