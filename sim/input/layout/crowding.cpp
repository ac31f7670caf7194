// Warns of corals placed inside one another.
#include <algorithm>
#include <fmt/format.h>
#include <vector>

#include "sim/base/text.h"
#include "sim/input/layout/sections.h"
#include "sim/run/actions.h"

namespace bedshade {
namespace {

/// Corals modelled as circles may overlap by this much when they only touch.
constexpr double kSlack_m = 0.005;

/// How far two bodies stand into each other, as cylinders across the height of each [m]; no more
/// than 0 where they do not.
double overlap_m(const Colony& a, const Colony& b) {
    const double low_m = std::max(a.position_m.z(), b.position_m.z());
    const double high_m = std::min(a.position_m.z() + a.height_m, b.position_m.z() + b.height_m);
    if (low_m >= high_m) return 0.0;
    const double apart_m = (a.position_m - b.position_m).head<2>().norm();
    return 0.5 * (a.diameter_m + b.diameter_m) - apart_m;
}

}  // namespace

void check_crowding(TableReader& top, const LayoutBuilder& builder) {
    const Layout& layout = builder.layout;
    const auto* node = top.node("colony");
    const auto* list = node != nullptr ? node->as_array() : nullptr;
    if (list == nullptr || top.diagnostics().any_errors()) return;
    // Those that stand as they are set from the first day on.
    std::vector<std::size_t> standing;
    for (std::size_t i = 0; i < layout.colonies.size(); ++i)
        if (!builder.checkpoint.colonies[i] && !is_added_later(layout, i)) standing.push_back(i);
    for (std::size_t i = 1; i < standing.size(); ++i)
        for (std::size_t k = 0; k < i && top.diagnostics().keeps_more_warnings(); ++k) {
            const Colony& late = layout.colonies[standing[i]];
            const Colony& early = layout.colonies[standing[k]];
            const double deep_m = overlap_m(late, early);
            if (deep_m <= kSlack_m) continue;
            top.diagnostics().warn(
                place_of((*list)[standing[i]]),
                fmt::format("colony \"{}\" reaches {:.1f} cm into colony \"{}\"",
                            escape_control(late.name), 100.0 * deep_m, escape_control(early.name)),
                "a coral inside another has no light and no room: set them apart");
        }
}

}  // namespace bedshade
