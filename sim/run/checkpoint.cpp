#include "sim/run/checkpoint.h"

#include <map>

#include "sim/run/reef_light.h"

namespace bedshade {
namespace {

std::string name_of(const Layout& layout, int colony) {
    return colony < 0 ? std::string() : layout.colonies[static_cast<std::size_t>(colony)].name;
}

}  // namespace

ContactState contacts_of(const Checkpoint& checkpoint, const Layout& layout) {
    std::map<std::string, int> index;
    for (std::size_t i = 0; i < layout.colonies.size(); ++i)
        index[layout.colonies[i].name] = static_cast<int>(i);
    const auto index_of = [&](const std::string& name) {
        const auto at = index.find(name);
        return at == index.end() ? -1 : at->second;
    };
    ContactState contacts;
    contacts.harm.resize(layout.colonies.size());
    for (std::size_t i = 0; i < checkpoint.colonies.size(); ++i) {
        if (!checkpoint.colonies[i]) continue;
        const ColonyCheckpoint& colony = *checkpoint.colonies[i];
        for (const auto& [other, day_d] : colony.touched_since_d)
            if (index_of(other) >= 0)
                contacts.since_d[{static_cast<int>(i), index_of(other)}] = day_d;
        contacts.harm[i] = {index_of(colony.stung_by), index_of(colony.overgrown_by),
                            colony.by_chemistry};
    }
    return contacts;
}

Checkpoint checkpoint_of(const Reef& reef, const Layout& layout) {
    Checkpoint checkpoint;
    checkpoint.day_d = reef.day_d;
    for (const ColonyState& state : reef.colonies) {
        auto& colony = checkpoint.colonies.emplace_back(std::in_place);
        colony->state = state;
    }
    for (const auto& [pair, day_d] : reef.contacts.since_d)
        checkpoint.colonies[static_cast<std::size_t>(pair.first)]->touched_since_d.emplace_back(
            name_of(layout, pair.second), day_d);
    for (std::size_t i = 0; i < reef.contacts.harm.size(); ++i) {
        ColonyCheckpoint& colony = *checkpoint.colonies[i];
        const ContactState::Harm& harm = reef.contacts.harm[i];
        colony.stung_by = name_of(layout, harm.stung_by);
        colony.overgrown_by = name_of(layout, harm.overgrown_by);
        colony.by_chemistry = harm.by_chemistry;
    }
    return checkpoint;
}

Reef reef_at_start(const Layout& layout, const Checkpoint* checkpoint) {
    Reef reef = baseline_reef(layout);
    reef.contacts.harm.resize(layout.colonies.size());
    if (checkpoint == nullptr) return reef;
    reef.day_d = checkpoint->day_d;
    reef.contacts = contacts_of(*checkpoint, layout);
    for (std::size_t i = 0; i < reef.colonies.size(); ++i)
        if (const auto& colony = checkpoint->colonies[i])
            reef.colonies[i] = colony->state;
        else
            reef.colonies[i].settled_at_d += checkpoint->day_d;
    return reef;
}

}  // namespace bedshade
