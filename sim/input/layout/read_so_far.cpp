// How a colony stands on the day that a season goes on from: the table `now`, which `bedshade
// export --to layout` writes.
#include <algorithm>
#include <fmt/format.h>

#include "sim/base/text.h"
#include "sim/input/layout/memory_text.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"
#include "sim/verdict/flag.h"

namespace bedshade {
namespace {

constexpr Range kOutline{0.0, 500.0};
constexpr Range kDaysOfSeasons{0.0, 20000.0};
constexpr std::size_t kMostTouching = 5000;

/// Sums over a season: what heals can be lost again, so that all of them may exceed 1.
void read_lost(TableReader& now, TissueLost& lost) {
    auto in = now.child("lost");
    if (!in) return;
    constexpr Range kLost{0.0, 1e6};
    in->number("to_darkness", lost.to_darkness, kLost);
    in->number("to_sand", lost.to_sand, kLost);
    in->number("to_stings", lost.to_stings, kLost);
    in->number("to_overgrowth", lost.to_overgrowth, kLost);
    in->number("to_dwellers", lost.to_infauna, kLost);
    in->finish();
}

void read_size(TableReader& in, ColonyState& state) {
    std::vector<double> radius_m;
    if (in.lengths("outline", radius_m, kSectors, kOutline, Need::required))
        std::copy(radius_m.begin(), radius_m.end(), state.radius_m.begin());
    in.quantity("height", state.height_m, kLength, {0.05, 500.0}, Need::required);
    in.flag("at_glass", state.touching.glass);
    in.flag("at_surface", state.touching.surface);
    in.flag("at_size_limit", state.touching.size_limit);
}

void read_stage(TableReader& in, Stage& stage) {
    in.choice("stage", stage,
              {{to_string(Stage::absent), Stage::absent},
               {to_string(Stage::settling), Stage::settling},
               {to_string(Stage::growing), Stage::growing},
               {to_string(Stage::idle), Stage::idle},
               {to_string(Stage::fasting), Stage::fasting},
               {to_string(Stage::receding), Stage::receding},
               {to_string(Stage::dead), Stage::dead}},
              Need::required);
}

void read_state(TableReader& in, const LayoutBuilder& builder, ColonyState& state) {
    in.flag("present", state.present);
    read_stage(in, state.stage);
    if (in.point("position", state.position_m, Need::required))
        in_water(in, "position", state.position_m, builder);
    read_size(in, state);
    in.number("live", state.live_fraction, kShare, {}, Need::required);
    in.number("saturation", state.saturation_umol_m2_s, {0.0, 5000.0}, "umol/m2/s", Need::required);
    in.number("reserve", state.reserve, kShare, {}, Need::required);
    in.number("sand", state.sand_kg_m2, {0.0, 1e4}, "kg/m2");
    in.number("sand_transmittance", state.sand_transmittance, kShare);
    in.number("sand_over", state.sand_over_d, kDaysOfSeasons, "d");
    in.number("grows_from_day", state.settled_at_d, kDaysOfSeasons, "d");
    read_lost(in, state.lost);
}

void read_contacts(TableReader& in, const LayoutBuilder& builder, ColonySoFar& so_far) {
    for_each_item(in, "touches", kMostTouching, [&](TableReader& item) {
        std::string name;
        double since_d = 0.0;
        const bool named = item.text("colony", name, Need::required);
        const bool dated = item.number("since_day", since_d, {0.0, builder.layout.season.from_d},
                                       "d", Need::required);
        if (named && dated) so_far.touched_since_d.emplace_back(name, since_d);
    });
    in.text("stung_by", so_far.stung_by);
    in.text("overgrown_by", so_far.overgrown_by);
    in.flag("by_chemistry", so_far.by_chemistry);
}

std::string all_flags() {
    std::string names;
    for (const FlagKind kind : kFlagKinds)
        names += fmt::format("{}{}", names.empty() ? "" : ", ", to_string(kind));
    return names;
}

/// Names of flags; the bits of those that there are.
void read_raised(TableReader& in, std::uint32_t& raised) {
    const auto* found = in.node("raised");
    if (!found) return;
    const auto* list = found->as_array();
    bool fine = list != nullptr;
    for (std::size_t i = 0; fine && i < list->size(); ++i) {
        const auto name = (*list)[i].value<std::string_view>();
        const auto kind = std::find_if(kFlagKinds.begin(), kFlagKinds.end(),
                                       [&](FlagKind k) { return name == to_string(k); });
        fine = kind != kFlagKinds.end();
        if (fine) raised |= 1U << static_cast<unsigned>(*kind);
    }
    if (!fine)
        in.error("raised", fmt::format("{} must be a list of flags", in.label("raised")),
                 "flags are: " + all_flags());
}

template <class Memory>
std::optional<Memory> memory_under(TableReader& in,
                                   std::optional<Memory> (*memory_of)(std::string_view)) {
    std::string text;
    if (!in.long_text("memory", text)) return std::nullopt;
    auto memory = memory_of(text);
    if (!memory)
        in.error("memory", fmt::format("{} is not what an export writes", in.label("memory")),
                 "leave it out: light is then traced anew, and the rest stays");
    return memory;
}

/// Warns of a colony that is said to be near and is no other one of the layout: it goes unheeded.
class Neighbours {
  public:
    Neighbours(const Layout& layout, Diagnostics& diagnostics) : diagnostics_(diagnostics) {
        for (const Colony& colony : layout.colonies) names_.push_back(colony.name);
        std::sort(names_.begin(), names_.end());
    }

    void check(const Place& at, const Colony& colony, const std::string& other) {
        if (other.empty() || !diagnostics_.keeps_more_warnings()) return;
        if (other != colony.name && std::binary_search(names_.begin(), names_.end(), other)) return;
        std::vector<std::string> others = names_;
        std::erase(others, colony.name);
        const std::string near = nearest_name(other, others);
        diagnostics_.warn(
            at,
            fmt::format("colony \"{}\" has to do with \"{}\", which is no other colony",
                        escape_control(colony.name), escape_control(other)),
            near.empty() ? near : fmt::format("did you mean \"{}\"?", escape_control(near)));
    }

  private:
    Diagnostics& diagnostics_;
    std::vector<std::string> names_;
};

}  // namespace

void read_so_far(TableReader& colony_in, const LayoutBuilder& builder, Colony& colony) {
    auto in = colony_in.child("now");
    if (!in) return;
    if (builder.layout.season.from_d <= 0.0)
        colony_in.error("now",
                        fmt::format("{} tells how {} stands, but the season does not say when",
                                    colony_in.label("now"), colony_in.name()),
                        "give from_day in [season]");
    auto so_far = std::make_shared<ColonySoFar>();
    read_state(*in, builder, so_far->state);
    read_contacts(*in, builder, *so_far);
    read_raised(*in, so_far->raised);
    so_far->memory = memory_under(*in, &colony_memory);
    in->finish();
    colony.so_far = std::move(so_far);
}

void read_memory(TableReader& season, std::shared_ptr<const TankMemory>& memory) {
    if (auto found = memory_under(season, &tank_memory))
        memory = std::make_shared<const TankMemory>(std::move(*found));
}

void check_neighbours(TableReader& top, const Layout& layout) {
    const auto* node = top.node("colony");
    const auto* list = node != nullptr ? node->as_array() : nullptr;
    Neighbours neighbours(layout, top.diagnostics());
    for (std::size_t i = 0; list != nullptr && i < layout.colonies.size(); ++i) {
        const Colony& colony = layout.colonies[i];
        if (!colony.so_far) continue;
        const Place at = place_of((*list)[i]);
        for (const auto& touched : colony.so_far->touched_since_d)
            neighbours.check(at, colony, touched.first);
        neighbours.check(at, colony, colony.so_far->stung_by);
        neighbours.check(at, colony, colony.so_far->overgrown_by);
    }
}

}  // namespace bedshade
