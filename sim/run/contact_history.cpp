#include "sim/run/contact_history.h"

#include <algorithm>

#include "model/growth/recession.h"

namespace bedshade {
namespace {

std::string name_of(const Layout& layout, int colony) {
    return colony < 0 ? std::string() : layout.colonies[static_cast<std::size_t>(colony)].name;
}

}  // namespace

void ContactHistory::take_up(const Layout& layout) {
    std::map<std::string, int> number;
    for (std::size_t i = 0; i < layout.colonies.size(); ++i)
        number[layout.colonies[i].name] = static_cast<int>(i);
    const auto number_of = [&](const std::string& name) {
        const auto at = number.find(name);
        return at == number.end() ? -1 : at->second;
    };
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const auto& so_far = layout.colonies[i].so_far;
        if (!so_far) continue;
        for (const auto& [other, day_d] : so_far->touched_since_d)
            if (number_of(other) >= 0) since_d_[{static_cast<int>(i), number_of(other)}] = day_d;
        harm_[i].stung_by = number_of(so_far->stung_by);
        harm_[i].overgrown_by = number_of(so_far->overgrown_by);
        harm_[i].by_chemistry = so_far->by_chemistry;
    }
}

void ContactHistory::fill(const Layout& layout, SeasonSoFar& so_far) const {
    for (const auto& [pair, day_d] : since_d_)
        so_far.colonies[static_cast<std::size_t>(pair.first)].touched_since_d.emplace_back(
            name_of(layout, pair.second), day_d);
    for (std::size_t i = 0; i < harm_.size(); ++i) {
        so_far.colonies[i].stung_by = name_of(layout, harm_[i].stung_by);
        so_far.colonies[i].overgrown_by = name_of(layout, harm_[i].overgrown_by);
        so_far.colonies[i].by_chemistry = harm_[i].by_chemistry;
    }
}

void ContactHistory::note(const std::vector<Contact>& contacts, double day_d, double step_d) {
    std::map<std::pair<int, int>, double> since_d;
    for (Harm& harm : harm_) harm.by.clear();
    for (const Contact& contact : contacts) {
        if (contact.kind != ContactKind::chemistry) {
            const std::pair pair(contact.a, contact.b);
            const auto known = since_d_.find(pair);
            const double began_d = known == since_d_.end() ? day_d : known->second;
            since_d[pair] = began_d;
            if (contact.kind == ContactKind::sweepers &&
                day_d + step_d - began_d <= kSweeperOnset_d)
                continue;  // they are growing out
        }
        if (contact.loser >= 0) note_harm(contact);
    }
    since_d_ = std::move(since_d);
}

void ContactHistory::note_harm(const Contact& contact) {
    Harm& harm = harm_[static_cast<std::size_t>(contact.loser)];
    harm.by.push_back(contact);
    if (contact.kind == ContactKind::overgrowth) {
        harm.overgrown_by = contact.winner;
        return;
    }
    // Tentacles hurt more than chemistry does: theirs is the name where both are at it.
    const bool chemistry = contact.kind == ContactKind::chemistry;
    const bool tentacles_too =
        std::any_of(harm.by.begin(), harm.by.end(), [](const Contact& other) {
            return other.kind != ContactKind::chemistry && other.kind != ContactKind::overgrowth;
        });
    if (chemistry && tentacles_too) return;
    harm.stung_by = contact.winner;
    harm.by_chemistry = chemistry;
}

void ContactHistory::sting(std::size_t i, double step_d, ColonyState& state) const {
    const double radius_m = 0.5 * mean_diameter_m(state.radius_m);
    for (const Contact& contact : harm_[i].by) {
        const double before = state.live_fraction;
        if (before <= 0.0) return;
        state.live_fraction =
            stung(before, radius_m, contact.loss_mm_d, step_d, contact.touched, contact.depth_m);
        (contact.kind == ContactKind::overgrowth ? state.lost.to_overgrowth
                                                 : state.lost.to_stings) +=
            before - state.live_fraction;
    }
}

}  // namespace bedshade
