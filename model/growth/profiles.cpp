#include "model/growth/profiles.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <initializer_list>

namespace bedshade {
namespace {

void add(Profile& profile, double s, double z_m) {
    assert(profile.count < Profile::kMaxPoints);
    profile.points[static_cast<std::size_t>(profile.count++)] = {s, z_m};
}

/// A solid body: a foot of radius `foot` (share), then points as shares of radius and height, of
/// which the first with s = 1 is the rim; the top is on the axis at the full height.
Profile body(double height_m, double foot, std::initializer_list<ProfilePoint> shares) {
    const double h = std::max(height_m, kLeastThickness_m);
    Profile profile;
    add(profile, 0.0, kBaseLift_m);
    add(profile, foot, kBaseLift_m);
    for (const ProfilePoint& p : shares) {
        if (p.s == 1.0 && profile.upper == 0) {
            profile.upper = profile.count;
            profile.rim_z_m = p.z_m * h;
        }
        add(profile, p.s, p.z_m * h);
    }
    add(profile, 0.0, h);
    return profile;
}

/// A plate: a sheet of uniform thickness on a stem, rising from centre to rim.
struct Plate {
    double thickness_m;  ///< if its height allows
    double centre;       ///< height of its centre relative to the rim
    double power;        ///< its upper side rises as s^power
    double stem;         ///< radius of the stem relative to the outline
};

Profile plate(double height_m, const Plate& form) {
    const double h = std::max(height_m, kLeastThickness_m + 0.001);
    const double t = std::max(std::min(form.thickness_m, 0.5 * h), kLeastThickness_m);
    // A low plate lies nearly flat on the ground: its centre needs room for thickness and stem.
    const double centre_m = std::max(form.centre * h, std::min(t + 0.001, h));
    const auto top_m = [&](double s) {
        return centre_m + (h - centre_m) * std::pow(s, form.power);
    };
    constexpr double kMiddle = 0.65;
    Profile profile;
    add(profile, 0.0, kBaseLift_m);
    add(profile, form.stem, kBaseLift_m);
    add(profile, form.stem, top_m(form.stem) - t);
    add(profile, kMiddle, top_m(kMiddle) - t);
    add(profile, 1.0, h - t);
    profile.upper = profile.count;
    profile.rim_z_m = h - 0.5 * t;
    add(profile, 1.0, h);
    add(profile, kMiddle, top_m(kMiddle));
    add(profile, form.stem, top_m(form.stem));
    add(profile, 0.0, centre_m);
    return profile;
}

/// A flat table on a stalk that flares into its underside.
Profile table(double height_m) {
    constexpr double kStalk = 0.18;
    const double h = std::max(height_m, kLeastThickness_m + 0.001);
    const double t = std::max(std::min(0.02, 0.5 * h), kLeastThickness_m);
    Profile profile;
    add(profile, 0.0, kBaseLift_m);
    add(profile, kStalk, kBaseLift_m);
    add(profile, kStalk, kBaseLift_m + 0.8 * (h - t - kBaseLift_m));
    add(profile, 0.6, h - t);
    add(profile, 1.0, h - t);
    profile.upper = profile.count;
    profile.rim_z_m = h - 0.5 * t;
    add(profile, 1.0, h);
    add(profile, 0.6, h);
    add(profile, 0.0, h);
    return profile;
}

}  // namespace

Profile profile_of(Form form, double height_m) {
    switch (form) {
        case Form::laminar:
            return plate(height_m, {0.005, 0.5, 1.2, 0.2});
        case Form::bowl:
            return plate(height_m, {0.008, 0.25, 1.8, 0.3});
        case Form::tabular:
            return table(height_m);
        case Form::branching:
            return body(height_m, 0.6, {{1.0, 0.4}, {0.9, 0.72}, {0.66, 0.91}, {0.35, 0.98}});
        case Form::massive:
            return body(height_m, 0.92, {{1.0, 0.2}, {0.92, 0.53}, {0.72, 0.79}, {0.4, 0.94}});
        case Form::encrusting:
        case Form::mat:
            return body(height_m, 0.97, {{1.0, 0.35}, {0.93, 0.85}, {0.6, 0.97}});
        case Form::columnar:
            return body(height_m, 0.75, {{1.0, 0.2}, {0.95, 0.7}, {0.75, 0.93}, {0.4, 0.99}});
        case Form::phaceloid:
            return body(height_m, 0.4,
                        {{0.85, 0.4}, {1.0, 0.62}, {0.9, 0.84}, {0.62, 0.95}, {0.3, 0.99}});
        case Form::solitary:
            return body(height_m, 0.7, {{1.0, 0.5}, {0.92, 0.83}, {0.66, 0.95}, {0.3, 0.99}});
        case Form::free_living_disc:
            return body(height_m, 0.75, {{1.0, 0.45}, {0.8, 0.74}, {0.5, 0.92}});
        case Form::stalked_soft:
            return body(height_m, 0.4,
                        {{0.4, 0.45}, {0.8, 0.6}, {1.0, 0.75}, {0.9, 0.92}, {0.5, 0.99}});
    }
    assert(false && "a form without a profile");
    return {};
}

}  // namespace bedshade
