// How a colony stands on the day that a run continues from: the table `now`, which `bedshade export
// --to layout` writes.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "model/sediment/sediment_rejection.h"

#include "sim/base/flag.h"
#include "sim/base/text.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"

namespace bedshade {
namespace {

constexpr Range kOutline{0.0, 500.0};
constexpr Range kRunDays{0.0, 20000.0};
constexpr std::size_t kMostTouching = 5000;

/// Sums over a run: what heals can be lost again, so that all of them may exceed 1.
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
    state.sand_transmittance = sand_transmittance(state.sand_kg_m2);
    in.number("sand_over", state.sand_over_d, kRunDays, "d");
    in.number("grows_from_day", state.settled_at_d, kRunDays, "d");
    read_lost(in, state.lost);
}

void read_contacts(TableReader& in, const LayoutBuilder& builder, ColonyCheckpoint& colony) {
    for_each_item(in, "touches", kMostTouching, [&](TableReader& item) {
        std::string name;
        double since_d = 0.0;
        const bool named = item.text("colony", name, Need::required);
        const bool dated = item.number("since_day", since_d, {0.0, builder.layout.season.from_d},
                                       "d", Need::required);
        if (named && dated) colony.touched_since_d.emplace_back(name, since_d);
    });
    in.text("stung_by", colony.stung_by);
    in.text("overgrown_by", colony.overgrown_by);
    in.flag("by_chemistry", colony.by_chemistry);
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

/// The three 30-day means, where they are known.
void read_means(TableReader& in, ColonyCheckpoint& colony) {
    const auto* found = in.node("mean_net_carbon");
    if (!found) return;
    const auto* list = found->as_array();
    std::array<double, 3> means{};
    bool fine = list != nullptr && list->size() == means.size();
    for (std::size_t i = 0; fine && i < means.size(); ++i) {
        const auto value = (*list)[i].value<double>();
        fine = value && std::isfinite(*value) && std::abs(*value) < 1e3;
        if (fine) means[i] = *value;
    }
    if (fine)
        colony.mean_net_carbon = means;
    else
        in.error("mean_net_carbon",
                 fmt::format("{} must be a list of three numbers", in.label("mean_net_carbon")),
                 "net carbon, with other colonies at day 0, without inhibition");
}

void read_habit(TableReader& in, const LayoutBuilder& builder, ColonyCheckpoint& colony) {
    in.number("too_slow_since_day", colony.too_slow_since_d, kRunDays, "d");
    in.number("too_fast_since_day", colony.too_fast_since_d, kRunDays, "d");
    Vec3 placed_m = Vec3::Zero();
    if (in.point("placed_at", placed_m) && in_water(in, "placed_at", placed_m, builder))
        colony.placed_m = placed_m;
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

void read_checkpoint(TableReader& colony_in, LayoutBuilder& builder) {
    auto& colonies = builder.checkpoint.colonies;
    colonies.emplace_back();
    auto in = colony_in.child("now");
    if (!in) return;
    if (builder.layout.season.from_d <= 0.0)
        colony_in.error("now",
                        fmt::format("{} describes {} on a later day, but [season] has no from_day",
                                    colony_in.label("now"), colony_in.name()),
                        "give from_day in [season]");
    ColonyCheckpoint colony;
    read_state(*in, builder, colony.state);
    read_contacts(*in, builder, colony);
    read_raised(*in, colony.raised);
    read_means(*in, colony);
    read_habit(*in, builder, colony);
    in->finish();
    colonies.back() = std::move(colony);
}

void check_neighbours(TableReader& top, const LayoutBuilder& builder) {
    const auto* node = top.node("colony");
    const auto* list = node != nullptr ? node->as_array() : nullptr;
    const auto& colonies = builder.checkpoint.colonies;
    Neighbours neighbours(builder.layout, top.diagnostics());
    for (std::size_t i = 0; list != nullptr && i < colonies.size(); ++i) {
        if (!colonies[i]) continue;
        const Colony& colony = builder.layout.colonies[i];
        const Place at = place_of((*list)[i]);
        for (const auto& touched : colonies[i]->touched_since_d)
            neighbours.check(at, colony, touched.first);
        neighbours.check(at, colony, colonies[i]->stung_by);
        neighbours.check(at, colony, colonies[i]->overgrown_by);
    }
}

}  // namespace bedshade
