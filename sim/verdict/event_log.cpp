#include "sim/verdict/event_log.h"

#include <algorithm>
#include <fmt/format.h>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "model/contact/reach.h"
#include "model/contact/separation.h"
#include "model/growth/forms.h"
#include "model/growth/surroundings.h"

#include "sim/run/checkpoint.h"

namespace bedshade {
namespace {

/// The words for a new stage of a colony; nothing for stages that are not reported.
const char* beginning(Stage stage) {
    switch (stage) {
        case Stage::growing:
            return "begins to grow outward";
        case Stage::fasting:
            return "begins to live on its reserve";
        case Stage::receding:
            return "begins to lose tissue: its reserve is used up";
        case Stage::dead:
            return "dies";
        case Stage::absent:
        case Stage::settling:
        case Stage::idle:
            break;
    }
    return nullptr;
}

const char* kind_of(ActionKind kind) {
    switch (kind) {
        case ActionKind::trim:
            return "trimmed";
        case ActionKind::move:
            return "moved";
        case ActionKind::add:
            return "added";
        case ActionKind::remove:
            return "removed";
        case ActionKind::clean:
            return "cleaned";
        case ActionKind::feed:
            return "fed";
        case ActionKind::set:
            return "set";
    }
    return "";
}

/// " for 2 d every 7 d", or nothing.
std::string duration_text(const Feeding& feeding) {
    std::string text;
    if (feeding.for_d) text += fmt::format(" for {:g} d", *feeding.for_d);
    if (feeding.every_d) text += fmt::format(" every {:g} d", *feeding.every_d);
    return text;
}

/// "the water is set to 25 degC, 0.1 1/m of yellowing".
std::string set_to(std::string text, const std::vector<std::string>& figures) {
    for (std::size_t i = 0; i < figures.size(); ++i) text += (i == 0 ? " to " : ", ") + figures[i];
    return text;
}

std::string change_text(const LampChange& change) {
    std::vector<std::string> figures;
    if (change.output) figures.push_back(fmt::format("{:.3g} of its full output", *change.output));
    if (change.above_m)
        figures.push_back(fmt::format("{:.3g} cm above the water", 100.0 * *change.above_m));
    if (change.day)
        figures.push_back(fmt::format("{:.3g} h a day, with ramps of {:.3g} h",
                                      change.day->off_h - change.day->on_h, change.day->ramp_h));
    return set_to(fmt::format("lamp '{}' is set", change.lamp), figures);
}

std::string change_text(const PumpChange& change) {
    std::string text = fmt::format("pump '{}' is set", change.pump);
    if (change.flow_m3_s) text += fmt::format(" to {:.0f} L/h", 3.6e6 * *change.flow_m3_s);
    if (change.direction)
        text += fmt::format("{} aimed at another point", change.flow_m3_s ? " and" : " to be");
    return text;
}

std::string change_text(const WaterChange& change) {
    std::vector<std::string> figures;
    if (change.temperature_C) figures.push_back(fmt::format("{:.3g} degC", *change.temperature_C));
    if (change.yellowing_per_m)
        figures.push_back(fmt::format("{:.3g} 1/m of yellowing", *change.yellowing_per_m));
    if (change.turbidity_kg_m3)
        figures.push_back(fmt::format("{:.3g} mg/L of turbidity", 1e3 * *change.turbidity_kg_m3));
    if (change.attenuation_per_m)
        figures.push_back(fmt::format("{:.3g} 1/m of attenuation", *change.attenuation_per_m));
    return set_to("the water is set", figures);
}

std::string change_text(const Feeding& feeding) {
    return fmt::format("food is {:.3g} times the usual{}", feeding.food, duration_text(feeding));
}

/// Of what changes no setting of the tank.
template <class Other>
std::string change_text(const Other& /*change*/) {
    return {};
}

std::string trim_text(const std::string& name, const AppliedAction& done) {
    if (done.cut_m2 <= 0.0)
        return fmt::format(
            "{} is {:.1f} cm across, and no part of it reaches that far: nothing is cut", name,
            100.0 * done.before_m);
    return fmt::format("{} is trimmed from {:.1f} to {:.1f} cm across; {:.0f} cm2 are cut off",
                       name, 100.0 * done.before_m, 100.0 * done.after_m, 1e4 * done.cut_m2);
}

std::string action_text(const Layout& layout, const AppliedAction& done) {
    const Action& action = layout.actions[static_cast<std::size_t>(done.action)];
    std::string text =
        std::visit([](const auto& change) { return change_text(change); }, action.to);
    if (done.colony < 0) return text;
    const Colony& colony = layout.colonies[static_cast<std::size_t>(done.colony)];
    if (done.kind == ActionKind::feed) return fmt::format("{}: {}", colony.name, text);
    text = fmt::format("{} is {}", colony.name, kind_of(done.kind));
    if (done.kind == ActionKind::trim) text = trim_text(colony.name, done);
    if (done.kind == ActionKind::move)
        text += fmt::format(" to {:.0f}, {:.0f}, {:.0f} cm", 100.0 * done.to_m.x(),
                            100.0 * done.to_m.y(), 100.0 * done.to_m.z());
    // Where handling itself can do harm, the caution stands on the same line.
    const std::string& caution = layout.taxon_of(colony).caution;
    if (caution.find("palytoxin") != std::string::npos) text += fmt::format(". {}", caution);
    return text;
}

std::string fall_text(const Layout& layout, const Fall& fall) {
    const auto name = [&](int colony) {
        return layout.colonies[static_cast<std::size_t>(colony)].name;
    };
    const double by_cm = 100.0 * (fall.from_m.z() - fall.to_m.z());
    return fmt::format("{} falls {:.0f} cm{}", name(fall.colony), by_cm,
                       fall.onto < 0 ? "" : " onto " + name(fall.onto));
}

constexpr const char* kFused = "fused";
/// Growth stops this close to a cutting of the same individual, with room to spare.
constexpr double kMet_m = 0.0005;

/// Whether two bodies touch.
bool touch(const ColonyBody& a, const ColonyBody& b) {
    if (!boxes_intersect(grown(a.bounds(), kMet_m), b.bounds())) return false;
    const Rim rim_a = rim_of(a), rim_b = rim_of(b);
    const auto from_a = distances_m(rim_a, b, rim_b, kMet_m);
    const auto from_b = distances_m(rim_b, a, rim_a, kMet_m);
    return std::min(*std::min_element(from_a.begin(), from_a.end()),
                    *std::min_element(from_b.begin(), from_b.end())) <= kMet_m;
}

/// Colonies of one day that have tissue, as bodies; each is made when it is first asked for, since
/// of many cuttings there are many more pairs.
class Bodies {
  public:
    /// `state_of` gives the state of a colony by its number, or null.
    Bodies(const Layout& layout, std::function<const ColonyState*(std::size_t)> state_of)
        : layout_(layout), state_of_(std::move(state_of)), made_(layout.colonies.size()) {}

    /// Whether two colonies live and touch.
    bool touch(std::size_t a, std::size_t b) {
        return lives(a) && lives(b) && bedshade::touch(of(a), of(b));
    }

  private:
    bool lives(std::size_t i) const {
        const ColonyState* state = state_of_(i);
        return state != nullptr && has_tissue(*state);
    }

    const ColonyBody& of(std::size_t i) {
        const Colony& colony = layout_.colonies[i];
        if (!made_[i]) made_[i].emplace(shape_of(layout_.taxon_of(colony), colony, *state_of_(i)));
        return *made_[i];
    }

    const Layout& layout_;
    std::function<const ColonyState*(std::size_t)> state_of_;
    std::vector<std::optional<ColonyBody>> made_;
};

const char* kind_of(Stage stage) {
    switch (stage) {
        case Stage::growing:
            return "growing";
        case Stage::fasting:
            return "fasting";
        case Stage::receding:
            return "receding";
        case Stage::dead:
            return "died";
        case Stage::absent:
        case Stage::settling:
        case Stage::idle:
            break;
    }
    return "";
}

}  // namespace

EventLog::EventLog(const Layout& layout, int member, const Checkpoint* checkpoint)
    : layout_(layout), member_(member), stage_(layout.colonies.size(), Stage::settling) {
    const auto state_before = [&](std::size_t i) -> const ColonyState* {
        if (checkpoint == nullptr || !checkpoint->colonies[i]) return nullptr;
        return &checkpoint->colonies[i]->state;
    };
    for (std::size_t i = 0; i < stage_.size(); ++i)
        if (const ColonyState* state = state_before(i)) stage_[i] = state->stage;
    // Those that touch in the run that this one continues were recorded there.
    Bodies before(layout, state_before);
    for (std::size_t a = 0; a < layout.colonies.size(); ++a)
        for (std::size_t b = a + 1; b < layout.colonies.size(); ++b)
            if (same_clone(layout.colonies[a], layout.colonies[b]) && !before.touch(a, b))
                apart_.push_back({a, b});
}

bool is_action_event(const EventRecord& event) {
    for (const ActionKind kind :
         {ActionKind::trim, ActionKind::move, ActionKind::add, ActionKind::remove, ActionKind::feed,
          ActionKind::clean, ActionKind::set})
        if (event.kind == kind_of(kind)) return true;
    return false;
}

bool is_fusion(const EventRecord& event) { return event.kind == kFused; }

void EventLog::note_fusions(const Snapshot& snapshot) {
    if (apart_.empty()) return;
    Bodies now(layout_, [&](std::size_t i) { return &snapshot.reef.colonies[i]; });
    const auto met = [&](const Pair& pair) {
        if (!now.touch(pair.a, pair.b)) return false;
        events_.push_back(
            {snapshot.day_d, member_, kFused, static_cast<int>(pair.a),
             fmt::format("{} and {} have grown together", layout_.colonies[pair.a].name,
                         layout_.colonies[pair.b].name)});
        return true;
    };
    std::erase_if(apart_, met);
}

void EventLog::take(const Snapshot& snapshot) {
    for (const AppliedAction& done : snapshot.reef.applied_actions)
        events_.push_back(
            {snapshot.day_d, member_, kind_of(done.kind), done.colony, action_text(layout_, done)});
    for (const Fall& fall : snapshot.reef.falls)
        events_.push_back({snapshot.day_d, member_, "fell", fall.colony, fall_text(layout_, fall)});
    for (std::size_t i = 0; i < stage_.size(); ++i) {
        const Stage stage = snapshot.reef.colonies[i].stage;
        if (stage == stage_[i]) continue;
        stage_[i] = stage;
        if (const char* words = beginning(stage))
            events_.push_back({snapshot.day_d, member_, kind_of(stage), static_cast<int>(i),
                               fmt::format("{} {}", layout_.colonies[i].name, words)});
    }
    note_fusions(snapshot);
}

}  // namespace bedshade
