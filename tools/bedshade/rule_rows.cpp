#include "tools/bedshade/rule_rows.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "model/sediment/open_sand.h"

#include "sim/base/text.h"

namespace bedshade {
namespace {

/// Light that shows in the table: what rounds to less changes nothing a keeper could read.
constexpr double kShown_umol_m2_s = 0.05;

/// A spot with a smaller share of the brightest spot's light lies under something.
constexpr double kLeastOfBrightest = 0.01;

/// Whether a coral on the sand lies over the spot: dark for a reason that needs no telling. A cell
/// at its edge may yet be light, since a cell's light is that of its whole area.
bool under_a_coral(const Layout& layout, const Vec3& at_m) {
    return std::any_of(layout.colonies.begin(), layout.colonies.end(), [&](const Colony& colony) {
        return colony.on_bed() &&
               (colony.position_m - at_m).head<2>().norm() < 0.5 * colony.diameter_m;
    });
}

std::string spot_name(const Vec3& at_m) {
    return fmt::format("bed at {:.0f}, {:.0f} cm", 100.0 * at_m.x(), 100.0 * at_m.y());
}

std::string line(const char* what, const std::vector<std::string>& cells) {
    std::string text = fmt::format("  {:<54}", what);
    for (const std::string& cell : cells) text += fmt::format("{:>22}", cell);
    return text + "\n";
}

template <class Cell>
std::string line_of(const char* what, const RuleOfThumb& rule, Cell cell) {
    std::vector<std::string> cells;
    for (const RuleAtSpot& spot : rule.spots) cells.push_back(cell(spot));
    return line(what, cells);
}

std::string change_line(const RuleOfThumb& rule, LeftOut what) {
    const auto k = static_cast<std::size_t>(what);
    double most = 0.0;
    for (const RuleAtSpot& spot : rule.spots)
        most = std::max(most, std::abs(spot.change_umol_m2_s[k]));
    if (most < kShown_umol_m2_s) return {};
    return line_of(to_string(what), rule, [&](const RuleAtSpot& spot) {
        return fmt::format("{:+.1f}", spot.change_umol_m2_s[k]);
    });
}

/// The change that moves the light most.
LeftOut greatest_change(const RuleAtSpot& spot) {
    const auto& change = spot.change_umol_m2_s;
    const auto most = std::max_element(
        change.begin(), change.end(), [](double a, double b) { return std::abs(a) < std::abs(b); });
    return static_cast<LeftOut>(most - change.begin());
}

std::string in_a_sentence(const RuleAtSpot& spot) {
    const LeftOut what = greatest_change(spot);
    return fmt::format(
        "  The {} has {:.2f} times the light the rule says, above all through {} "
        "({:+.1f}).\n",
        spot_name(spot.at_m), spot.found_umol_m2_s / spot.rule_umol_m2_s, to_string(what),
        spot.change_umol_m2_s[static_cast<std::size_t>(what)]);
}

const char* json_name(LeftOut what) {
    static constexpr std::array<const char*, kLeftOut> kNames = {
        "beam", "lamp_size", "refraction", "absorption", "walls", "shade", "returned"};
    return kNames[static_cast<std::size_t>(what)];
}

nlohmann::ordered_json site_json(const RuleAtSpot& spot) {
    nlohmann::ordered_json changes;
    for (std::size_t k = 0; k < kLeftOut; ++k)
        changes[json_name(static_cast<LeftOut>(k))] = spot.change_umol_m2_s[k];
    return {{"x_cm", 100.0 * spot.at_m.x()},          {"y_cm", 100.0 * spot.at_m.y()},
            {"z_cm", 100.0 * spot.at_m.z()},          {"rule_umol_m2_s", spot.rule_umol_m2_s},
            {"ppfd_umol_m2_s", spot.found_umol_m2_s}, {"change_umol_m2_s", changes}};
}

}  // namespace

std::vector<Vec3> telling_spots(const Layout& layout, const BedGrid& grid,
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
    // What is all but dark lies close under something, and needs no telling either.
    bare.erase(std::remove_if(bare.begin(), bare.end(),
                              [&](const Vec3& at_m) {
                                  return light(at_m) < kLeastOfBrightest * light(brightest);
                              }),
               bare.end());
    return {brightest, *std::min_element(bare.begin(), bare.end(), darker)};
}

std::string rule_text(const std::optional<RuleOfThumb>& rule) {
    if (!rule || rule->spots.empty()) return {};
    const Vec3 cm = 100.0 * rule->reference_m;
    std::string text = fmt::format(
        "\nThe rule of thumb: twice as far from the lamp, a quarter of the light\n"
        "  Scaled to the {4:.1f} umol m-2 s-1 that fall at {1:.0f}, {2:.0f}, {3:.0f} cm, below "
        "'{0}', "
        "and what one thing\n  more changes each time, in umol m-2 s-1 (a level sensor facing "
        "up):\n",
        escape_control(rule->lamp), cm.x(), cm.y(), cm.z(), rule->reference_umol_m2_s);
    text += line_of("", *rule, [](const RuleAtSpot& spot) { return spot_name(spot.at_m); });
    text += line_of("the rule says", *rule, [](const RuleAtSpot& spot) {
        return fmt::format("{:.1f}", spot.rule_umol_m2_s);
    });
    for (std::size_t k = 0; k < kLeftOut; ++k) text += change_line(*rule, static_cast<LeftOut>(k));
    text += line_of("computed", *rule, [](const RuleAtSpot& spot) {
        return fmt::format("{:.1f}", spot.found_umol_m2_s);
    });
    for (const RuleAtSpot& spot : rule->spots) text += in_a_sentence(spot);
    return text;
}

nlohmann::ordered_json rule_json(const std::optional<RuleOfThumb>& rule) {
    if (!rule) return nullptr;
    nlohmann::ordered_json spots = nlohmann::ordered_json::array();
    for (const RuleAtSpot& spot : rule->spots) spots.push_back(site_json(spot));
    return {{"lamp", rule->lamp},
            {"reference",
             {{"x_cm", 100.0 * rule->reference_m.x()},
              {"y_cm", 100.0 * rule->reference_m.y()},
              {"z_cm", 100.0 * rule->reference_m.z()},
              {"ppfd_umol_m2_s", rule->reference_umol_m2_s}}},
            {"spots", spots}};
}

}  // namespace bedshade
