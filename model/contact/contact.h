// Contacts (competition) between colonies by tentacles, touch, overgrowth and allelopathy: who
// reaches whom, who wins, and the rate of tissue loss.
#pragma once

#include <cstdint>
#include <vector>

#include "model/growth/extension.h"
#include "model/growth/surroundings.h"
#include "model/reef/reef.h"

namespace bedshade {

/// Mechanism by which the winner harms the loser, or by which the two meet in a stand-off.
enum class ContactKind : std::uint8_t {
    polyps,      ///< by its polyps and mesenterial filaments
    sweepers,    ///< by sweeper tentacles, at night
    touch,       ///< tissue on tissue
    overgrowth,  ///< tissue on tissue from above, covering the loser's centre
    chemistry,   ///< by allelopathy, without touch
};

struct Contact {
    int a = -1, b = -1;  ///< colonies, a < b
    double gap_m = 0.0;  ///< between their skeletons
    ContactKind kind = ContactKind::touch;
    double chance_a_wins = 0.5;   ///< of a fight in which both can reach
    int winner = -1, loser = -1;  ///< colonies; -1 in a stand-off
    double touched = 0.0;         ///< share of the loser's outline within reach [0, 1]
    double depth_m = 0.0;         ///< distance from the loser's edge that the winner reaches
    double loss_mm_d = 0.0;       ///< recession of the loser's edge while contact lasts
};

/// Recession of the loser's edge while contact lasts: 0.5 to 3 mm/d were observed in tanks and in
/// maintained sweeper contacts (from memory and analogy); 1 is used.
inline constexpr double kContactLoss_mm_d = 1.0;
/// Time in which sweepers grow after a contact begins (Chornesky 1983, Agaricia): a contact of kind
/// `sweepers` does harm only after it.
inline constexpr double kSweeperOnset_d = 30.0;
/// Recession at the facing edge by allelopathy of a soft coral [mm/d]: a guess, no source, slower
/// than by touch and faster than most tissue heals. It kills nearby tissue without touch (Sammarco
/// et al. 1983: Porites cylindrica beside Lobophytum).
inline constexpr double kAllelopathyLoss_mm_d = 0.2;
/// Fraction of pairs within reach that it harms: most corals within 10 cm of a soft coral were
/// interacting (Griffith 1997); the value for "most" is a guess.
inline constexpr double kAllelopathyChance = 0.75;
/// Skeletons this close touch; growth stops kColonyGap_m short of a neighbour on either side.
inline constexpr double kTouch_m = 2.0 * kColonyGap_m;

/// Probability that A beats B: logistic in the difference of their ranks over 15. The ranks follow
/// published aggression indices (as gathered by Carturan et al. 2018); the scale of 15 is an
/// analogy: a rank is only approximate for a pair, and reversals occur (Dai 1990).
double win_probability(double rank_a, double rank_b);

/// Random sample that decides a pair in one ensemble member: uniform in (0, 1), constant in a run.
/// Member 0 is the central one, in which the higher rank always wins: 0.5.
double contact_sample(std::uint64_t seed, std::uint32_t member, int a, int b);

/// Whether a taxon tolerates allelopathy of soft corals: soft corals and mats of polyps do, stony
/// corals do not (after Sammarco et al. 1983 and Dai 1990; known for few taxa).
bool tolerates_allelopathy(const Taxon& taxon);

/// All contacts among the living colonies of a reef, ordered by a, then b. `around` must hold this
/// reef (set_colonies). Colonies of one taxon tolerate each other (clones do; common practice, no
/// source).
///
/// If only one of a pair reaches the other, it either wins or, depending on the random sample, does
/// no harm. Equal ranks stand off in member 0. Allelopathy is a separate contact besides that of
/// tentacles: it depends only on distance, not on flow or on activated carbon.
std::vector<Contact> find_contacts(const Surroundings& around, const Reef& reef,
                                   std::uint64_t seed = 0, std::uint32_t member = 0);

}  // namespace bedshade
