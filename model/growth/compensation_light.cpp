#include "model/growth/compensation_light.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace bedshade {
namespace {

constexpr double kNoScale = std::numeric_limits<double>::infinity();

/// Net carbon that counts as zero, in dark-respiration days per day.
constexpr double kZeroNet = 1e-7;

/// Upper limit of the search; tanh is 1 long before [mol m-2 d-1].
constexpr double kMaxDli_mol_m2_d = 1e5;

/// Factor between steps of the search with inhibition.
constexpr double kStride = 1.1;
constexpr int kMaxStrides = 75;  ///< 1.1^75 is over 1000

struct Point {
    double scale = 0.0, net = 0.0;
};

/// Two scales, the first with a negative net carbon and the second with none negative.
struct Bracket {
    Point below, above;
    bool found = false;
};

/// Searches up or down from a guess by increasing factors until the net carbon changes sign.
template <typename Net>
Bracket bracket_from(const Net& net, double guess, double largest) {
    Point here{guess, net(guess)};
    const bool up = here.net < 0.0;
    for (double factor = kStride; here.scale <= largest; factor *= factor) {
        const double scale = up ? here.scale * factor : here.scale / factor;
        const Point next{scale, net(scale)};
        if (up && next.net >= 0.0) return {here, next, true};
        if (!up && next.net < 0.0) return {next, here, true};
        here = next;
    }
    return {};
}

/// Regula falsi with the Illinois step (Dowell & Jarratt 1971): the value at an end that stays
/// twice in a row is halved, so that both ends converge.
template <typename Net>
double root_in(const Net& net, Point below, Point above) {
    constexpr int kMostSteps = 100;  // about five are taken
    int last_side = 0;
    double scale = above.scale;
    for (int step = 0; step < kMostSteps; ++step) {
        scale = below.scale + (above.scale - below.scale) * below.net / (below.net - above.net);
        const Point next{scale, net(scale)};
        if (std::abs(next.net) < kZeroNet) break;
        const int side = next.net < 0.0 ? -1 : 1;
        (side < 0 ? below : above) = next;
        if (side == last_side) (side < 0 ? above : below).net *= 0.5;
        last_side = side;
    }
    return scale;
}

/// Searches upward from the scale that suffices without inhibition: more light on dim patches can
/// outweigh the inhibition of bright ones.
template <typename Net>
double scale_with_inhibition(const Net& net, double uninhibited_scale) {
    Point here{uninhibited_scale, net(uninhibited_scale)};
    if (here.net >= -kZeroNet) return uninhibited_scale;
    for (int stride = 0; stride < kMaxStrides; ++stride) {
        const Point next{here.scale * kStride, net(here.scale * kStride)};
        if (next.net >= 0.0) return root_in(net, here, next);
        here = next;
    }
    return kNoScale;
}

}  // namespace

double mean_net_carbon(const Tissue& tissue, const LightDay& day, const PatchLight& light,
                       double scale) {
    assert(light.plateau_umol_m2_s.size() == light.weight.size() * day.lamps);
    double net = 0.0, weight = 0.0;
    for (std::size_t p = 0; p < light.weight.size(); ++p) {
        if (light.weight[p] <= 0.0) continue;
        const auto patch = light.plateau_umol_m2_s.subspan(p * day.lamps, day.lamps);
        net += light.weight[p] * net_carbon(tissue, day, patch, scale);
        weight += light.weight[p];
    }
    return weight > 0.0 ? net / weight : 0.0;
}

double mean_dli_mol_m2_d(const LightDay& day, const PatchLight& light) {
    assert(light.plateau_umol_m2_s.size() == light.weight.size() * day.lamps);
    double dli = 0.0, weight = 0.0;
    for (std::size_t p = 0; p < light.weight.size(); ++p) {
        const auto patch = light.plateau_umol_m2_s.subspan(p * day.lamps, day.lamps);
        dli += light.weight[p] * dli_mol_m2_d(day, patch);
        weight += light.weight[p];
    }
    return weight > 0.0 ? dli / weight : 0.0;
}

double need_scale(const Tissue& tissue, const LightDay& day, const PatchLight& light,
                  double guess) {
    if (net_carbon(tissue, 0.0, 0.0) >= 0.0) return 0.0;
    const double dli = mean_dli_mol_m2_d(day, light);
    if (!tissue.photosynthetic() || dli <= 0.0) return kNoScale;
    const auto net_with = [&](const Tissue& of) {
        return [&, of](double scale) { return mean_net_carbon(of, day, light, scale); };
    };
    const double largest = kMaxDli_mol_m2_d / dli;
    const double start = guess > 0.0 && guess <= largest ? guess : std::min(1.0, largest);
    const auto uninhibited = net_with(without_inhibition(tissue));
    const Bracket bracket = bracket_from(uninhibited, start, largest);
    if (!bracket.found) return kNoScale;
    return scale_with_inhibition(net_with(tissue),
                                 root_in(uninhibited, bracket.below, bracket.above));
}

}  // namespace bedshade
