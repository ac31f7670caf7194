#include "sim/advice/cuts.h"

#include <cmath>

#include "sim/base/calendar.h"

namespace bedshade {

bool is_cut(Form form) { return form != Form::solitary && form != Form::free_living_disc; }

bool is_cut(const Layout& layout, int colony) {
    return colony >= 0 &&
           is_cut(layout.taxon_of(layout.colonies[static_cast<std::size_t>(colony)]).form);
}

double first_day_of(int month) { return std::ceil(day_at_month(month - 1.0)); }

int last_month_before(double day_d) {
    int month = static_cast<int>(std::floor(day_d / kDaysPerMonth)) + 1;
    while (month > 0 && first_day_of(month) >= day_d) --month;
    return month;
}

Layout with_cuts(const Layout& layout, const std::vector<Cut>& cuts) {
    Layout cut = layout;
    for (const Cut& c : cuts) {
        Action action;
        action.day_d = c.day_d;
        action.kind = ActionKind::trim;
        action.colony = layout.colonies[static_cast<std::size_t>(c.colony)].name;
        action.to = c.to_m;
        cut.actions.push_back(std::move(action));
    }
    return cut;
}

std::vector<Cut> quarterly_cuts(const Layout& layout) {
    std::vector<Cut> cuts;
    for (int month = 4; month <= layout.season.months; month += 3)
        for (std::size_t i = 0; i < layout.colonies.size(); ++i)
            if (is_cut(layout, static_cast<int>(i)))
                cuts.push_back(
                    {static_cast<int>(i), first_day_of(month), layout.colonies[i].diameter_m});
    return cuts;
}

}  // namespace bedshade
