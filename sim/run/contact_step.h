// What contact with neighbours costs a colony in a step.
#pragma once

#include <vector>

#include "model/contact/contact.h"
#include "model/reef/reef.h"

namespace bedshade {

/// The contacts of a step.
struct ContactStep {
    ContactState state;                         ///< after it
    std::vector<std::vector<Contact>> harmful;  ///< by colony: those that it loses
};

/// The contacts of a step that begins on `day_d`, among `colonies` colonies. A contact that has
/// ended begins anew when it comes back; sweepers grow out only while it lasts (kSweeperOnset_d).
ContactStep contact_step(const std::vector<Contact>& contacts, const ContactState& before,
                         std::size_t colonies, double day_d, double step_d);

/// Tissue that a colony loses to these contacts in `step_d` days.
void sting(const std::vector<Contact>& harmful, double step_d, ColonyState& state);

}  // namespace bedshade
