#include "tools/bedshade/inverse_square.h"

#include <algorithm>
#include <fmt/format.h>

#include "model/sediment/open_sand.h"

#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr double kReferenceDepth_m = 0.10;
/// A spot with a smaller share of the brightest spot's light lies under something.
constexpr double kDarkShare = 0.01;

double flux_umol_s(const Lamp& lamp) { return lamp.photon_flux_umol_s * lamp.output; }

/// The strongest of the lamps that hang over the water, or null.
const Lamp* lamp_to_scale_by(const Layout& layout) {
    const Lamp* best = nullptr;
    for (const Lamp& lamp : layout.lamps) {
        const Vec3& at = lamp.centre_m;
        const bool over = at.x() >= 0.0 && at.x() <= layout.tank.length_m && at.y() >= 0.0 &&
                          at.y() <= layout.tank.width_m;
        if (over && (!best || flux_umol_s(lamp) > flux_umol_s(*best))) best = &lamp;
    }
    return best;
}

Vec3 below(const Lamp& lamp, const Tank& tank) {
    const double depth_m = std::min(kReferenceDepth_m, 0.5 * tank.water_depth_m);
    return {lamp.centre_m.x(), lamp.centre_m.y(), tank.water_depth_m - depth_m};
}

/// What the law says, to a factor.
double by_the_law(const Layout& layout, const Vec3& at_m) {
    double sum = 0.0;
    for (const Lamp& lamp : layout.lamps)
        sum += flux_umol_s(lamp) / (lamp.centre_m - at_m).squaredNorm();
    return sum;
}

bool under_a_coral(const Layout& layout, const Vec3& at_m) {
    return std::any_of(layout.colonies.begin(), layout.colonies.end(), [&](const Colony& colony) {
        return colony.on_bed() &&
               (colony.position_m - at_m).head<2>().norm() < 0.5 * colony.diameter_m;
    });
}

/// Bare sand where it is brightest and where it is darkest, but for what lies under something.
std::vector<Vec3> spots_on_bed(const Layout& layout, const BedGrid& grid,
                               const std::vector<double>& bed_umol_m2_s) {
    const auto light = [&](const Vec3& at_m) {
        return bed_umol_m2_s[grid.index(grid.column_at(at_m.x()), grid.row_at(at_m.y()))];
    };
    std::vector<Vec3> bare;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Vec3 at_m(grid.x_m(i), grid.y_m(j), 0.0);
            if (open_sand(at_m.head<2>(), layout.tank, layout.rocks) &&
                !under_a_coral(layout, at_m))
                bare.push_back(at_m);
        }
    if (bare.empty()) return {};
    const auto darker = [&](const Vec3& a, const Vec3& b) { return light(a) < light(b); };
    const Vec3 brightest = *std::max_element(bare.begin(), bare.end(), darker);
    std::erase_if(bare,
                  [&](const Vec3& at_m) { return light(at_m) < kDarkShare * light(brightest); });
    return {brightest, *std::min_element(bare.begin(), bare.end(), darker)};
}

}  // namespace

std::optional<InverseSquareComparison> compare_inverse_square(
    const Layout& layout, const Forecast& forecast, const std::vector<double>& bed_umol_m2_s) {
    const Lamp* lamp = lamp_to_scale_by(layout);
    if (!lamp) return std::nullopt;
    InverseSquareComparison comparison{lamp->name, below(*lamp, layout.tank), 0.0, {}};
    std::vector<LightReceptor> sensors{{comparison.reference_m, Vec3::UnitZ()}};
    for (const Vec3& spot_m : spots_on_bed(layout, forecast.grid(), bed_umol_m2_s))
        sensors.push_back({spot_m, Vec3::UnitZ()});
    const auto light =
        summed_over_lamps(forecast.light_at(forecast.light(), sensors), sensors.size());
    if (!(light[0] > 0.0)) return std::nullopt;
    comparison.reference_umol_m2_s = light[0];
    const double scale = light[0] / by_the_law(layout, comparison.reference_m);
    for (std::size_t s = 1; s < sensors.size(); ++s)
        comparison.spots.push_back(
            {sensors[s].position_m, scale * by_the_law(layout, sensors[s].position_m), light[s]});
    return comparison;
}

std::string inverse_square_text(const std::optional<InverseSquareComparison>& comparison) {
    if (!comparison || comparison->spots.empty()) return {};
    const auto ratio = [](const InverseSquareSpot& spot) {
        return fmt::format("{:.2f} times that light at {:.0f}, {:.0f} cm",
                           spot.model_umol_m2_s / spot.law_umol_m2_s, 100.0 * spot.at_m.x(),
                           100.0 * spot.at_m.y());
    };
    return fmt::format(
        "\nThe inverse-square law, scaled to the {:.1f} umol m-2 s-1 below '{}', is not enough "
        "here:\nthe bed has {} (brightest) and {} (darkest).\n",
        comparison->reference_umol_m2_s, escape_control(comparison->lamp),
        ratio(comparison->spots.front()), ratio(comparison->spots.back()));
}

nlohmann::ordered_json inverse_square_json(
    const std::optional<InverseSquareComparison>& comparison) {
    if (!comparison) return nullptr;
    const auto place = [](const Vec3& at_m) {
        return nlohmann::ordered_json{
            {"x_cm", 100.0 * at_m.x()}, {"y_cm", 100.0 * at_m.y()}, {"z_cm", 100.0 * at_m.z()}};
    };
    auto spots = nlohmann::ordered_json::array();
    for (const InverseSquareSpot& spot : comparison->spots) {
        auto row = place(spot.at_m);
        row["law_umol_m2_s"] = spot.law_umol_m2_s;
        row["ppfd_umol_m2_s"] = spot.model_umol_m2_s;
        spots.push_back(row);
    }
    auto reference = place(comparison->reference_m);
    reference["ppfd_umol_m2_s"] = comparison->reference_umol_m2_s;
    return {{"lamp", comparison->lamp}, {"reference", reference}, {"spots", spots}};
}

}  // namespace bedshade
