#include "sim/verdict/comparison.h"

#include <algorithm>

namespace bedshade {
namespace {

const std::string& name_of(const Arm& arm, int colony) {
    return arm.layout->colonies[static_cast<std::size_t>(colony)].name;
}

/// The same trouble of the same colony in another season.
const Flag* counterpart(const Arm& arm, const Flag& flag, const std::string& colony) {
    const auto found = std::find_if(arm.flags.begin(), arm.flags.end(), [&](const Flag& f) {
        return f.kind == flag.kind && name_of(arm, f.colony) == colony;
    });
    return found == arm.flags.end() ? nullptr : &*found;
}

/// The culprit by name: indices differ between layouts.
std::string culprit_of(const Arm& arm, const Flag& flag) {
    if (flag.culprit < 0) return {};
    const auto i = static_cast<std::size_t>(flag.culprit);
    if (flag.culprit_kind == CulpritKind::colony) return arm.layout->colonies[i].name;
    if (flag.culprit_kind == CulpritKind::pump) return arm.layout->pumps[i].name;
    if (flag.culprit_kind == CulpritKind::inhabitant) return arm.layout->inhabitants[i].name;
    return {};
}

bool has_moved(const Arm& before, const Flag& a, const Arm& after, const Flag& b) {
    return a.day_d != b.day_d || a.culprit_kind != b.culprit_kind ||
           culprit_of(before, a) != culprit_of(after, b);
}

double first_day_d(const FlagChange& change) {
    constexpr double kNever = 1e300;
    return std::min(change.before ? change.before->day_d : kNever,
                    change.after ? change.after->day_d : kNever);
}

std::vector<FlagChange> flag_changes(const Arm& before, const Arm& after) {
    std::vector<FlagChange> changes;
    for (const Flag& flag : before.flags) {
        const Flag* other = counterpart(after, flag, name_of(before, flag.colony));
        if (other == nullptr)
            changes.push_back({flag, {}});
        else if (has_moved(before, flag, after, *other))
            changes.push_back({flag, *other});
    }
    for (const Flag& flag : after.flags)
        if (counterpart(before, flag, name_of(after, flag.colony)) == nullptr)
            changes.push_back({{}, flag});
    std::stable_sort(changes.begin(), changes.end(), [](const FlagChange& a, const FlagChange& b) {
        return first_day_d(a) < first_day_d(b);
    });
    return changes;
}

std::optional<ColonyMeans> means_of(const Arm& arm, const std::string& name) {
    const auto& colonies = arm.layout->colonies;
    for (std::size_t i = 0; i < colonies.size(); ++i)
        if (colonies[i].name == name) return arm.colonies[i];
    return {};
}

std::vector<ColonyChange> colony_changes(const Arm& before, const Arm& after) {
    std::vector<ColonyChange> changes;
    const auto note = [&](const std::string& name) {
        ColonyChange change{name, means_of(before, name), means_of(after, name)};
        if (change.before != change.after) changes.push_back(std::move(change));
    };
    for (const Colony& colony : before.layout->colonies) note(colony.name);
    for (const Colony& colony : after.layout->colonies)
        if (!means_of(before, colony.name)) note(colony.name);
    return changes;
}

}  // namespace

Comparison compared(const Arm& before, const Arm& after) {
    return {flag_changes(before, after), colony_changes(before, after), before.bed != after.bed};
}

}  // namespace bedshade
