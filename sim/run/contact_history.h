// Which colonies have been in contact, since when, and what that costs the loser in a step.
#pragma once

#include <map>
#include <utility>
#include <vector>

#include "model/contact/contact.h"
#include "model/reef/layout.h"
#include "model/reef/reef.h"
#include "model/reef/so_far.h"

namespace bedshade {

class ContactHistory {
  public:
    explicit ContactHistory(std::size_t colonies) : harm_(colonies) {}

    /// Takes up the contacts of a step that begins on `day_d`. A contact that has ended begins anew
    /// when it comes back; sweepers grow out only while it lasts (kSweeperOnset_d).
    void note(const std::vector<Contact>& contacts, double day_d, double step_d);

    /// Goes on from where the layout says its colonies were; those it does not hold are left out.
    void take_up(const Layout& layout);
    /// Tells of the contacts that are under way and of who harmed whom last.
    void fill(const Layout& layout, SeasonSoFar& so_far) const;

    /// Tissue that colony `i` loses to its neighbours in `step_d` days.
    void sting(std::size_t i, double step_d, ColonyState& state) const;

    /// Who has reached colony `i` with tentacles, or grows over it, as last noted; -1: nobody.
    int stung_by(std::size_t i) const { return harm_[i].stung_by; }
    int overgrown_by(std::size_t i) const { return harm_[i].overgrown_by; }
    /// Whether the one that stings it last did so by its chemistry.
    bool by_chemistry(std::size_t i) const { return harm_[i].by_chemistry; }

  private:
    void note_harm(const Contact& contact);

    struct Harm {
        std::vector<Contact> by;  // contacts it loses, harmful in this step
        int stung_by = -1, overgrown_by = -1;
        bool by_chemistry = false;
    };

    std::map<std::pair<int, int>, double> since_d_;
    std::vector<Harm> harm_;
};

}  // namespace bedshade
