#include "sim/run/contact_step.h"

#include <algorithm>

#include "model/growth/recession.h"

namespace bedshade {
namespace {

/// Who is named for the harm: a colony that grows over another, else one with tentacles, else one
/// that harms by chemistry.
void note_harm(const Contact& contact, const std::vector<Contact>& harmful,
               ContactState::Harm& harm) {
    if (contact.kind == ContactKind::overgrowth) {
        harm.overgrown_by = contact.winner;
        return;
    }
    const bool chemistry = contact.kind == ContactKind::chemistry;
    const bool tentacles_too =
        std::any_of(harmful.begin(), harmful.end(), [](const Contact& other) {
            return other.kind != ContactKind::chemistry && other.kind != ContactKind::overgrowth;
        });
    if (chemistry && tentacles_too) return;
    harm.stung_by = contact.winner;
    harm.by_chemistry = chemistry;
}

/// Day on which a contact began.
double began_d(const ContactState& before, const Contact& contact, double day_d) {
    const auto known = before.since_d.find({contact.a, contact.b});
    return known == before.since_d.end() ? day_d : known->second;
}

}  // namespace

ContactStep contact_step(const std::vector<Contact>& contacts, const ContactState& before,
                         std::size_t colonies, double day_d, double step_d) {
    ContactStep step;
    step.state.harm = before.harm;
    step.state.harm.resize(colonies);
    step.harmful.resize(colonies);
    for (const Contact& contact : contacts) {
        if (contact.kind != ContactKind::chemistry) {
            const double since_d = began_d(before, contact, day_d);
            step.state.since_d[{contact.a, contact.b}] = since_d;
            const bool growing_out = contact.kind == ContactKind::sweepers &&
                                     day_d + step_d - since_d <= kSweeperOnset_d;
            if (growing_out) continue;
        }
        if (contact.loser < 0) continue;
        const auto loser = static_cast<std::size_t>(contact.loser);
        step.harmful[loser].push_back(contact);
        note_harm(contact, step.harmful[loser], step.state.harm[loser]);
    }
    return step;
}

void sting(const std::vector<Contact>& harmful, double step_d, ColonyState& state) {
    const double radius_m = 0.5 * mean_diameter_m(state.radius_m);
    for (const Contact& contact : harmful) {
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
