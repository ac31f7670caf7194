#include "sim/run/conditions.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "model/base/days.h"

#include "sim/base/calendar.h"

namespace bedshade {
namespace {

/// A `feed` that concerns a colony.
struct Meal {
    double on_d = 0.0;
    Feeding feeding;

    /// Day on which it last began by `day_d`, which is not before its first.
    double began_d(double day_d) const {
        if (!feeding.every_d) return on_d;
        return on_d + std::floor((day_d - on_d) / *feeding.every_d) * *feeding.every_d;
    }
    bool ends() const { return feeding.for_d.has_value(); }
    bool holds(double day_d) const {
        return day_d >= on_d && (!ends() || day_d < began_d(day_d) + *feeding.for_d);
    }
};

std::vector<Meal> meals_of(const Layout& layout, const std::string& colony) {
    std::vector<Meal> meals;
    for (const Action& action : layout.actions)
        if (const auto* feeding = std::get_if<Feeding>(&action.to);
            feeding && (action.colony.empty() || action.colony == colony))
            meals.push_back({action.day_d, *feeding});
    return meals;
}

double food_at(const std::vector<Meal>& meals, double day_d) {
    const Meal* holding = nullptr;
    for (const Meal& meal : meals) {
        if (!meal.holds(day_d)) continue;
        const bool goes_before =
            holding == nullptr || meal.ends() > holding->ends() ||
            (meal.ends() == holding->ends() && meal.began_d(day_d) >= holding->began_d(day_d));
        if (goes_before) holding = &meal;
    }
    return holding != nullptr ? holding->feeding.food : 1.0;
}

/// Days within (from_d, to_d) on which food may change, and both ends, rising.
std::vector<double> turns_of(const std::vector<Meal>& meals, double from_d, double to_d) {
    std::vector<double> turns = {from_d, to_d};
    const auto note = [&](double day_d) {
        if (day_d > from_d && day_d < to_d) turns.push_back(day_d);
    };
    for (const Meal& meal : meals) {
        double begins_d = from_d > meal.on_d ? meal.began_d(from_d) : meal.on_d;
        do {
            note(begins_d);
            if (meal.ends()) note(begins_d + *meal.feeding.for_d);
            begins_d += meal.feeding.every_d.value_or(0.0);
        } while (meal.feeding.every_d && begins_d < to_d);
    }
    std::sort(turns.begin(), turns.end());
    return turns;
}

}  // namespace

double temperature_on_C(const Layout& layout, double day_d) {
    const Water& water = layout.water;
    if (water.seasonal_swing_K == 0.0) return water.temperature_C;
    const auto warmest = calendar_day(2000, water.warmest_month, 15).value();
    const double years = (day_d - days_since(layout.season.start, warmest)) / kDaysPerYear;
    return water.temperature_C + water.seasonal_swing_K * std::cos(2.0 * kPi * years);
}

double food_over(const Layout& layout, const std::string& colony, double from_d, double to_d) {
    const std::vector<Meal> meals = meals_of(layout, colony);
    if (meals.empty() || to_d <= from_d) return food_at(meals, from_d);
    const std::vector<double> turns = turns_of(meals, from_d, to_d);
    double sum = 0.0;
    for (std::size_t i = 1; i < turns.size(); ++i)
        sum += (turns[i] - turns[i - 1]) * food_at(meals, 0.5 * (turns[i - 1] + turns[i]));
    return sum / (to_d - from_d);
}

}  // namespace bedshade
