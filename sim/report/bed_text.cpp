#include "sim/report/bed_text.h"

#include <fmt/format.h>

#include "model/contact/infauna.h"

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/report/report.h"
#include "sim/run/reef_light.h"

namespace bedshade {
namespace {

/// Less than a grain or so a month is no motion worth a line.
constexpr double kLeastReported_mm_month = 0.1;

std::string place(const Vec2& site_m) {
    return fmt::format("{:.0f}, {:.0f} cm", 100.0 * site_m.x(), 100.0 * site_m.y());
}

/// How long the bed lasts where it sinks, if that is less than the run.
std::string bare_text(const Layout& layout, double mm_month) {
    const double months = 1000.0 * layout.substrate.depth_m / -mm_month;
    if (months > layout.season.months) return "";
    return fmt::format("; at that rate the {:g} cm of sand there would be gone in {:.0f} month{}",
                       100.0 * layout.substrate.depth_m, std::max(1.0, months),
                       months < 1.5 ? "" : "s");
}

std::string diggers_of(const Layout& layout, const UnderminedRock& rock) {
    std::vector<std::string> names;
    for (const int who : rock.diggers)
        names.push_back(fmt::format(
            "'{}'", escape_control(layout.inhabitants[static_cast<std::size_t>(who)].name)));
    return fmt::format("{}", fmt::join(names, ", "));
}

std::string undermined_line(const Layout& layout, const UnderminedRock& rock) {
    std::vector<std::string> why;
    if (rock.scoured.mm_month < 0.0)
        why.push_back(fmt::format("the bed beside it sinks by {:.1f} mm a month at {}{}",
                                  -rock.scoured.mm_month, place(rock.scoured.site_m),
                                  bare_text(layout, rock.scoured.mm_month)));
    if (!rock.diggers.empty())
        why.push_back(fmt::format("{} can dig beside it", diggers_of(layout, rock)));
    return fmt::format("  '{}' rests on sand, and {}\n",
                       escape_control(layout.rocks[static_cast<std::size_t>(rock.rock)].name),
                       fmt::join(why, "; "));
}

}  // namespace

std::string bed_change_text(const Layout& layout, const BedGrid& grid,
                            const std::vector<double>& net_change_kg_m2_d) {
    const BedChange net_change =
        extremes_of(grid, net_change_mm_month(layout.substrate, net_change_kg_m2_d));
    std::string text;
    if (net_change.scoured.mm_month < -kLeastReported_mm_month)
        text += fmt::format("The bed loses sand fastest at {}: {:.1f} mm a month{}.\n",
                            place(net_change.scoured.site_m), -net_change.scoured.mm_month,
                            bare_text(layout, net_change.scoured.mm_month));
    if (net_change.filled.mm_month > kLeastReported_mm_month)
        text += fmt::format("It gains sand fastest at {}: {:.1f} mm a month.\n",
                            place(net_change.filled.site_m), net_change.filled.mm_month);
    if (text.empty())
        return fmt::format("No spot of the bed gains or loses more than {:g} mm of sand a month.\n",
                           kLeastReported_mm_month);
    return text;
}

std::string undermined_text(const Layout& layout, const BedGrid& grid,
                            const std::vector<double>& net_change_kg_m2_d) {
    std::string lines;
    for (const UnderminedRock& rock :
         undermined_rocks(layout, grid, net_change_mm_month(layout.substrate, net_change_kg_m2_d)))
        lines += undermined_line(layout, rock);
    if (lines.empty()) return "";
    return "Rock on sand that moves: rockwork can fall. Stand it on the floor of the tank before "
           "corals go on\n" +
           lines;
}

std::string irritation_text(const Layout& layout, const Reef& reef) {
    const std::vector<Irritation> irritations = infauna_irritation(layout, reef);
    std::string lines;
    for (std::size_t i = 0; i < irritations.size(); ++i) {
        if (irritations[i].inhabitant < 0) continue;
        const auto who = static_cast<std::size_t>(irritations[i].inhabitant);
        lines += fmt::format(
            "  '{}' ({}) stands where '{}' lives: it loses about {:.1f} mm of tissue a month\n",
            escape_control(layout.colonies[i].name),
            short_name(layout.taxon_of(layout.colonies[i])),
            escape_control(layout.inhabitants[who].name),
            irritations[i].speed_mm_d * kDaysPerMonth);
    }
    if (lines.empty()) return "";
    return "Corals irritated at their base (the effect is known from common practice; the rate of "
           "recession is a guess)\n" +
           lines;
}

}  // namespace bedshade
