#include "sim/report/report.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <map>
#include <set>

#include "sim/base/calendar.h"
#include "sim/base/text.h"
#include "sim/report/bed_text.h"
#include "sim/run/reef_light.h"
#include "sim/verdict/flag_detector.h"

namespace bedshade {
namespace {

const Colony& colony_of(const Layout& layout, int index) {
    return layout.colonies[static_cast<std::size_t>(index)];
}

/// 'A1' (Montipora capricornis)
std::string named(const Layout& layout, int index) {
    const Colony& colony = colony_of(layout, index);
    return fmt::format("'{}' ({})", escape_control(colony.name),
                       short_name(layout.taxon_of(colony)));
}

std::string place_of(const Colony& colony) {
    if (colony.on_bed()) return "on the bed";
    return colony.on.empty() ? "where it is set"
                             : fmt::format("on '{}'", escape_control(colony.on));
}

double detail_of(const Flag& flag, std::string_view name) {
    for (const auto& [key, value] : flag.detail)
        if (key == name) return value;
    return 0.0;
}

std::string when_text(const Layout& layout, const Flag& flag) {
    return fmt::format("month {} ({})", flag.month, date_at(layout.season.start, flag.day_d));
}

std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

std::string light_text(const Flag& flag) {
    const double need = detail_of(flag, "need_dli_mol_m2_d");
    if (!std::isfinite(need))
        return fmt::format("its daily light is {:.2f} mol m-2, and no light would be enough",
                           detail_of(flag, "dli_mol_m2_d"));
    return fmt::format("its daily light is {:.2f} of the {:.2f} mol m-2 it needs",
                       detail_of(flag, "dli_mol_m2_d"), need);
}

std::string shaded_text(const Layout& layout, const Flag& flag) {
    return fmt::format("{} takes {} of the light of {} {}: {}", named(layout, flag.culprit),
                       percent(flag.share), named(layout, flag.colony),
                       place_of(colony_of(layout, flag.colony)), light_text(flag));
}

std::string dim_text(const Layout& layout, const Flag& flag) {
    if (flag.culprit_kind == CulpritKind::colony) return shaded_text(layout, flag);
    return fmt::format("the spot of {} {} is too dark under these lamps: {}",
                       named(layout, flag.colony), place_of(colony_of(layout, flag.colony)),
                       light_text(flag));
}

std::string starved_text(const Layout& layout, const Flag& flag) {
    const std::string by =
        flag.culprit_kind == CulpritKind::colony
            ? fmt::format(" in the shade of {}, which takes {} of its light",
                          named(layout, flag.culprit), percent(flag.share))
            : fmt::format(" from lack of {}",
                          flag.culprit_kind == CulpritKind::water ? "food" : "light");
    return fmt::format("{} {} has used up its reserve and is losing tissue{}",
                       named(layout, flag.colony), place_of(colony_of(layout, flag.colony)), by);
}

std::string buried_text(const Layout& layout, const Flag& flag) {
    std::string by;
    const auto source = static_cast<std::size_t>(std::max(0, flag.culprit));
    if (flag.culprit >= 0 && flag.culprit_kind == CulpritKind::pump)
        by = fmt::format("; most of it ({}) resuspended by pump '{}'", percent(flag.share),
                         escape_control(layout.pumps[source].name));
    if (flag.culprit >= 0 && flag.culprit_kind == CulpritKind::inhabitant)
        by = fmt::format("; most of it ({}) from '{}'", percent(flag.share),
                         escape_control(layout.inhabitants[source].name));
    return fmt::format(
        "{} is losing tissue under {:.0f} mg/cm2 of sand, deposited at {:.0f} mg/cm2 a day{}",
        named(layout, flag.colony), detail_of(flag, "sand_mg_cm2"),
        detail_of(flag, "fallout_mg_cm2_d"), by);
}

std::string flow_text(const Layout& layout, const Flag& flag) {
    const double low = detail_of(flag, "flow_low_cm_s"), high = detail_of(flag, "flow_high_cm_s");
    return fmt::format(
        "{} has averaged {} cm/s of flow for 30 days; it does best at {:g} to {:g} cm/s",
        named(layout, flag.colony), beside_range(detail_of(flag, "flow_cm_s"), low, high), low,
        high);
}

std::string neighbour_text(const Layout& layout, const Flag& flag, const char* harm) {
    const std::string by = flag.culprit >= 0 ? named(layout, flag.culprit) : "a neighbour";
    return fmt::format("{} is losing tissue {} {}", named(layout, flag.colony), harm, by);
}

std::string outgrown_text(const Layout& layout, const Flag& flag) {
    std::vector<std::string> met;
    if (detail_of(flag, "touches_glass") > 0.0) met.emplace_back("the glass");
    if (detail_of(flag, "touches_surface") > 0.0) met.emplace_back("the surface");
    if (detail_of(flag, "at_size_limit") > 0.0) met.emplace_back("the largest size of its kind");
    return fmt::format("{} is {:.0f} cm across and has reached {}", named(layout, flag.colony),
                       detail_of(flag, "diameter_cm"), fmt::join(met, " and "));
}

std::string irritated_text(const Layout& layout, const Flag& flag) {
    const std::string by =
        flag.culprit >= 0
            ? fmt::format(
                  "'{}'",
                  escape_control(layout.inhabitants[static_cast<std::size_t>(flag.culprit)].name))
            : "an animal";
    return fmt::format(
        "{} recedes from {} at its base, by about {:.1f} mm a month (the rate is a guess)",
        named(layout, flag.colony), by, detail_of(flag, "recession_mm_month"));
}

/// The coral it lies on now, if any; a flag read from a file may have any number.
std::string onto_text(const Layout& layout, const Flag& flag) {
    const double onto = detail_of(flag, "onto_colony");
    if (!(onto >= 0.0 && onto < static_cast<double>(layout.colonies.size()))) return "";
    return fmt::format(" onto {}", named(layout, static_cast<int>(onto)));
}

std::string fallen_text(const Layout& layout, const Flag& flag) {
    std::string why = "its base no longer rests on the rock";
    if (detail_of(flag, "steep") > 0.0) why = "the rock under it is too steep for a loose coral";
    if (flag.culprit_kind == CulpritKind::pump)
        why = fmt::format(
            "a gust of {:.0f} cm/s moves it; unattached, it withstands up to {:.0f} cm/s on level "
            "rock",
            detail_of(flag, "gust_cm_s"), detail_of(flag, "holds_up_to_cm_s"));
    return fmt::format("{} falls {:.0f} cm{} at {:.0f}, {:.0f} cm: {}", named(layout, flag.colony),
                       detail_of(flag, "fell_cm"), onto_text(layout, flag), detail_of(flag, "x_cm"),
                       detail_of(flag, "y_cm"), why);
}

std::string flag_sentence(const Layout& layout, const Flag& flag) {
    switch (flag.kind) {
        case FlagKind::too_dim:
            return dim_text(layout, flag);
        case FlagKind::light_short:
            return shaded_text(layout, flag);
        case FlagKind::too_bright:
            return fmt::format("{} gets more light than it tolerates: {}",
                               named(layout, flag.colony), light_text(flag));
        case FlagKind::starved:
            return starved_text(layout, flag);
        case FlagKind::buried:
            return buried_text(layout, flag);
        case FlagKind::flow_poor:
        case FlagKind::flow_harsh:
            return flow_text(layout, flag);
        case FlagKind::stung:
            return neighbour_text(layout, flag,
                                  detail_of(flag, "by_chemistry") > 0.0 ? "to chemicals released by"
                                                                        : "to the tentacles of");
        case FlagKind::overgrown:
            return neighbour_text(layout, flag, "where it is overgrown by");
        case FlagKind::outgrown:
            return outgrown_text(layout, flag);
        case FlagKind::irritated:
            return irritated_text(layout, flag);
        case FlagKind::fallen:
            return fallen_text(layout, flag);
        case FlagKind::strayed:
            return fmt::format(
                "{} has walked {:.0f} cm from where it was put, to {:.0f}, {:.0f} cm",
                named(layout, flag.colony), detail_of(flag, "away_cm"), detail_of(flag, "x_cm"),
                detail_of(flag, "y_cm"));
    }
    return named(layout, flag.colony);
}

/// The light margin over time as one character a month: how DLI stands to need. Blank for months
/// before the one that a run continues from.
std::string margin_chart(const ForecastSummary& summary, std::size_t colony, int months) {
    std::string chart;
    for (int m = 1; m <= months; ++m) {
        if (day_at_month(m) < summary.day_d.front()) {
            chart += ' ';
            continue;
        }
        const auto at =
            std::lower_bound(summary.day_d.begin(), summary.day_d.end(), day_at_month(m) - 1e-6);
        const auto snapshot = static_cast<std::size_t>(std::min<std::ptrdiff_t>(
            at - summary.day_d.begin(), static_cast<std::ptrdiff_t>(summary.day_d.size()) - 1));
        const float margin = summary.light_margin[colony][snapshot];
        chart += margin < 0.5F   ? '_'
                 : margin < 1.0F ? '.'
                 : margin < 1.5F ? '-'
                 : margin < 3.0F ? '='
                                 : '#';
    }
    return chart;
}

std::string flags_of_colony(const std::vector<Flag>& flags, int colony) {
    std::string text;
    for (const Flag& flag : flags) {
        if (flag.colony != colony) continue;
        if (!text.empty()) text += ", ";
        text += fmt::format("{} month {}", to_string(flag.kind), flag.month);
    }
    return text.empty() ? "none" : text;
}

std::string bed_table(const Layout& layout, const ForecastSummary& summary) {
    if (std::none_of(layout.colonies.begin(), layout.colonies.end(),
                     [](const Colony& colony) { return colony.on_bed(); }))
        return "There is no coral on the bed.\n";
    std::string text = fmt::format(
        "Corals on the bed (daily light and need in mol m-2)\n"
        "  {:<18} {:<22} {:>13} {:>13} {:>11}  {:<{}}  {}\n",
        "name", "kind", "start", "end", "cm across", "light/need",
        std::max(10, layout.season.months), "trouble");
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        if (!colony.on_bed()) continue;
        const ColonyObservation &a = summary.first.colonies[i], &b = summary.last.colonies[i];
        text += fmt::format(
            "  {:<18} {:<22} {:>5.2f} of {:<5.2f} {:>5.2f} of {:<5.2f} {:>4.1f} > {:<4.1f}  {:<{}} "
            " {}\n",
            truncate(colony.name, 18), truncate(layout.taxon_of(colony).id, 22), a.dli_mol_m2_d,
            a.need_dli_mol_m2_d, b.dli_mol_m2_d, b.need_dli_mol_m2_d,
            100.0 * mean_diameter_m(summary.first.reef.colonies[i].radius_m),
            100.0 * mean_diameter_m(summary.last.reef.colonies[i].radius_m),
            margin_chart(summary, i, layout.season.months), std::max(10, layout.season.months),
            flags_of_colony(summary.flags, static_cast<int>(i)));
    }
    return text + "  light/need by month: _ under half, . under 1, - to 1.5, = to 3, # above\n";
}

/// A line an event under a heading; empty without any.
std::string events_text(const Layout& layout, const char* heading,
                        const std::vector<EventRecord>& events) {
    if (events.empty()) return {};
    std::string text = fmt::format("{}\n", heading);
    for (const EventRecord& event : events)
        text += fmt::format("  {}: {}\n", date_at(layout.season.start, event.day_d),
                            escape_control(event.text));
    return text + "\n";
}

}  // namespace

std::string truncate(const std::string& text, std::size_t width) {
    std::string shown = escape_control(text);
    if (shown.size() <= width) return shown;
    std::size_t cut = width - 1;
    while (cut > 0 && (static_cast<unsigned char>(shown[cut]) & 0xC0U) == 0x80U) --cut;
    return shown.substr(0, cut) + "~";
}

std::string beside_range(double value, double low, double high) {
    const auto value_of = [](const std::string& text) {
        return std::strtod(text.c_str(), nullptr);
    };
    const double low_shown = value_of(fmt::format("{:g}", low)),
                 high_shown = value_of(fmt::format("{:g}", high));
    const bool within = value >= low && value <= high;
    constexpr int kMostDecimals = 6;
    std::string text;
    for (int decimals = 1; decimals <= kMostDecimals; ++decimals) {
        text = fmt::format("{:.{}f}", value, decimals);
        if (within == (value_of(text) >= low_shown && value_of(text) <= high_shown)) break;
    }
    return text;
}

std::string short_name(const Taxon& taxon) {
    return escape_control(taxon.scientific_name.substr(0, taxon.scientific_name.find(';')));
}

std::string culprit_name(const Layout& layout, const Flag& flag) {
    if (flag.culprit < 0) return "";
    const auto i = static_cast<std::size_t>(flag.culprit);
    switch (flag.culprit_kind) {
        case CulpritKind::colony:
            return layout.colonies[i].name;
        case CulpritKind::pump:
            return layout.pumps[i].name;
        case CulpritKind::inhabitant:
            return layout.inhabitants[i].name;
        case CulpritKind::lamp:
            return layout.lamps[i].name;
        case CulpritKind::water:
        case CulpritKind::action:
        case CulpritKind::self:
            break;
    }
    return "";
}

std::vector<Flag> reporting_order(const Layout& layout, std::vector<Flag> flags) {
    std::stable_sort(flags.begin(), flags.end(), [&](const Flag& a, const Flag& b) {
        const bool first_a = plate_starves_bed(a, layout), first_b = plate_starves_bed(b, layout);
        return first_a != first_b ? first_a : a.day_d < b.day_d;
    });
    return flags;
}

std::string verdict_text(const Layout& layout, const std::vector<Flag>& flags) {
    const auto worst = std::find_if(flags.begin(), flags.end(),
                                    [&](const Flag& f) { return plate_starves_bed(f, layout); });
    if (worst != flags.end()) {
        const Form form = layout.taxon_of(colony_of(layout, worst->culprit)).form;
        return fmt::format("In month {} the {} {} starves {} on the bed, taking {} of its light.",
                           worst->month, form == Form::tabular ? "table" : "plate",
                           named(layout, worst->culprit), named(layout, worst->colony),
                           percent(worst->share));
    }
    const int months = layout.season.months;
    const bool continues = layout.season.from_d > 0.0;
    const std::string counted = fmt::format("{} month{}", months, months == 1 ? "" : "s");
    const std::string horizon =
        continues ? fmt::format("the rest of {}, from {} on", counted,
                                date_at(layout.season.start, layout.season.from_d))
                  : counted;
    if (flags.empty() && continues) return fmt::format("Nothing new goes wrong in {}.", horizon);
    if (flags.empty()) return fmt::format("Nothing goes wrong in {}.", horizon);
    return fmt::format("No plate starves the bed in {}, but other flags are raised.", horizon);
}

void SummaryKeeper::take(const Snapshot& snapshot) {
    if (summary_.day_d.empty()) {
        summary_.first = snapshot;
        summary_.light_margin.resize(snapshot.colonies.size());
    }
    summary_.day_d.push_back(snapshot.day_d);
    for (std::size_t i = 0; i < snapshot.colonies.size(); ++i) {
        const ColonyObservation& found = snapshot.colonies[i];
        const double margin =
            found.need_dli_mol_m2_d > 0.0 ? found.dli_mol_m2_d / found.need_dli_mol_m2_d : 1e6;
        summary_.light_margin[i].push_back(static_cast<float>(margin));
    }
    summary_.last = snapshot;
}

std::string lamp_output_text(const Layout& layout, const Calibration& calibration) {
    if (calibration.comparisons.empty())
        return "Lamp output is assumed, not measured, so the months of a forecast are uncertain by "
               "about a year:\nreal output can differ from the rating by a factor of 1.3 either "
               "way. One light-meter [[reading]] fixes this.\n";
    if (calibration.used)
        return fmt::format(
            "Lamp output is scaled by {:.3g}, the median of {} meter reading{} over the model.\n",
            calibration.output_scale, calibration.comparisons.size(),
            calibration.comparisons.size() == 1 ? "" : "s");
    return fmt::format(
        "{} meter reading{} give{} {:.3g} times the model (median); lamp output is not "
        "scaled{}.\n",
        calibration.comparisons.size(), calibration.comparisons.size() == 1 ? "" : "s",
        calibration.comparisons.size() == 1 ? "s" : "", calibration.median_ratio,
        layout.season.use_readings ? ", as the model has no light there"
                                   : " (use_readings = false)");
}

std::string readings_text(const Calibration& calibration) {
    if (calibration.comparisons.empty()) return "";
    std::string text =
        "Meter readings against the model (PPFD, umol m-2 s-1)\n"
        "         x, y, z cm    sensor   meter   model   meter/model\n";
    for (const ReadingComparison& c : calibration.comparisons) {
        const Vec3 cm = 100.0 * c.reading.at_m;
        text += fmt::format("  {:>17}  {:>8}  {:>6.0f}  {:>6.0f}  {:>12.2f}\n",
                            fmt::format("{:g}, {:g}, {:g}", cm.x(), cm.y(), cm.z()),
                            c.reading.sensor == Sensor::planar ? "planar" : "scalar",
                            c.reading.ppfd_umol_m2_s, c.model_umol_m2_s, c.ratio);
    }
    return text;
}

std::string flag_text(const Layout& layout, const Flag& flag) {
    return fmt::format("{}, {}: {}", when_text(layout, flag), to_string(flag.kind),
                       flag_sentence(layout, flag));
}

std::string forecast_text(const Layout& layout, const ForecastSummary& summary,
                          const std::function<std::string(const std::string&)>& emphasise) {
    const auto flags = reporting_order(layout, summary.flags);
    std::string text = emphasise(verdict_text(layout, flags)) + "\n\n";
    if (!flags.empty()) {
        text += "Flags\n";
        for (const Flag& flag : flags) text += fmt::format("  {}\n", flag_text(layout, flag));
        text += "\n";
    }
    text += events_text(layout, "Actions", summary.applied_actions);
    text += events_text(layout, "Fused corals", summary.fusions);
    const BedGrid grid = bed_grid_of(layout.tank);
    const std::vector<double>& net_change = summary.first.bed.net_change_kg_m2_d;
    text += bed_table(layout, summary) + "\n" + bed_change_text(layout, grid, net_change);
    const std::string undermined = undermined_text(layout, grid, net_change);
    return undermined.empty() ? text : text + "\n" + undermined;
}

std::string bed_map_text(const BedGrid& grid, const std::vector<double>& ppfd) {
    constexpr int kMostColumns = 16;
    const int stride_x = std::max(1, (grid.nx + kMostColumns - 1) / kMostColumns);
    const int stride_y = std::max(1, (2 * stride_x * static_cast<int>(1000 * grid.cell_x_m)) /
                                         static_cast<int>(1000 * grid.cell_y_m) / 2);
    std::string text =
        "Light on the bed (PPFD, umol m-2 s-1; back of the tank at the top, 0 under rock)\n";
    for (int top = grid.ny - 1; top >= 0; top -= stride_y) {
        const int low = std::max(0, top - stride_y + 1);
        text += fmt::format("  y {:>3.0f} cm ", 50.0 * (grid.y_m(low) + grid.y_m(top)));
        for (int left = 0; left < grid.nx; left += stride_x) {
            const int right = std::min(grid.nx, left + stride_x);
            double sum = 0.0;
            for (int j = low; j <= top; ++j)
                for (int i = left; i < right; ++i) sum += ppfd[grid.index(i, j)];
            text += fmt::format("{:>5.0f}", sum / ((top - low + 1) * (right - left)));
        }
        text += "\n";
    }
    text += "     x, cm ";
    for (int left = 0; left < grid.nx; left += stride_x) {
        const int right = std::min(grid.nx, left + stride_x) - 1;
        text += fmt::format("{:>5.0f}", 50.0 * (grid.x_m(left) + grid.x_m(right)));
    }
    return text + "\n";
}

std::string cautions_text(const Layout& layout) {
    std::map<std::string, std::set<std::string>> holders;
    for (const Colony& colony : layout.colonies) {
        const Taxon& taxon = layout.taxon_of(colony);
        if (!taxon.caution.empty())
            holders[escape_control(taxon.caution)].insert(short_name(taxon));
    }
    std::string text = "Cautions (local codes and licensed practice come first)\n";
    for (const auto& [caution, names] : holders)
        text += fmt::format("  {}\n    applies to: {}\n", caution, fmt::join(names, ", "));
    if (!layout.pumps.empty() || !layout.lamps.empty())
        text +=
            "  Mains power beside salt water: use a residual-current device and drip loops, and "
            "unplug before you reach in.\n";
    if (!layout.rocks.empty())
        text +=
            "  Stacked rock is heavy and can fall: stand it on the floor, not on sand, and fix it "
            "before corals go on.\n";
    return text + "  Never release animals, rock or water from a tank into the wild.\n";
}

}  // namespace bedshade
