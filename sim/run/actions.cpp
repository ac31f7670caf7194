#include "sim/run/actions.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "model/growth/trimming.h"

namespace bedshade {
namespace {

constexpr double kSameDay_d = 1e-6;

/// Does an action to a colony; nothing when there was nothing to do.
std::optional<AppliedAction> done_to(std::size_t i, std::size_t number, const Layout& layout,
                                     double day_d, ColonyState& state) {
    const Action& action = layout.actions[number];
    AppliedAction done;
    done.kind = action.kind;
    done.action = static_cast<int>(number);
    done.colony = static_cast<int>(i);
    if ((action.kind == ActionKind::add) == state.present) return {};
    switch (action.kind) {
        case ActionKind::trim: {
            done.before_m = mean_diameter_m(state.radius_m);
            const Form form = layout.taxon_of(layout.colonies[i]).form;
            done.cut_m2 = trim_to(std::get<double>(action.to), form, state);
            done.after_m = mean_diameter_m(state.radius_m);
            return done;
        }
        case ActionKind::move:
            state.position_m = done.to_m = std::get<Vec3>(action.to);
            return done;
        case ActionKind::add:
            state.present = true;
            state.settled_at_d = day_d + layout.colonies[i].settling_d;
            return done;
        case ActionKind::remove:
            state.present = false;
            return done;
        case ActionKind::clean:
            state.sand_kg_m2 = state.sand_over_d = 0.0;
            state.sand_transmittance = 1.0;
            return done;
        case ActionKind::feed:
            return done;
        case ActionKind::set:
            break;
    }
    return {};
}

/// Settings are everybody's, and so is food that names no colony.
bool is_of_tank(const Action& action) {
    return action.kind == ActionKind::set ||
           (action.kind == ActionKind::feed && action.colony.empty());
}

AppliedAction done_to_tank(std::size_t number, const Layout& layout) {
    AppliedAction done;
    done.kind = layout.actions[number].kind;
    done.action = static_cast<int>(number);
    return done;
}

}  // namespace

bool is_same_day(double a_d, double b_d) { return std::abs(a_d - b_d) < kSameDay_d; }

bool is_on_day(const Action& action, double day_d) { return is_same_day(action.day_d, day_d); }

std::vector<double> action_days(const Layout& layout) {
    std::vector<double> days;
    for (const Action& action : layout.actions) days.push_back(action.day_d);
    std::sort(days.begin(), days.end());
    days.erase(std::unique(days.begin(), days.end(),
                           [](double a, double b) { return b - a < kSameDay_d; }),
               days.end());
    return days;
}

bool is_added_later(const Layout& layout, std::size_t colony) {
    return std::any_of(layout.actions.begin(), layout.actions.end(), [&](const Action& action) {
        return action.kind == ActionKind::add && action.colony == layout.colonies[colony].name;
    });
}

std::vector<AppliedAction> apply_to_colonies(const Layout& layout, double day_d, Reef& reef) {
    std::vector<AppliedAction> all;
    for (std::size_t number = 0; number < layout.actions.size(); ++number) {
        const Action& action = layout.actions[number];
        if (!is_on_day(action, day_d)) continue;
        if (is_of_tank(action)) {
            all.push_back(done_to_tank(number, layout));
            continue;
        }
        for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
            // Cleaning without a name is done to all.
            if (!action.colony.empty() && action.colony != layout.colonies[i].name) continue;
            if (const auto done = done_to(i, number, layout, day_d, reef.colonies[i]))
                all.push_back(*done);
        }
    }
    return all;
}

}  // namespace bedshade
