// Who reaches whom, who gets the better of it, and how much tissue that costs.
#pragma once

#include <cstdint>
#include <vector>

#include "model/growth/extension.h"
#include "model/growth/surroundings.h"
#include "model/reef/reef.h"

namespace bedshade {

/// How the winner gets at the loser, or in a stand-off how the two get at each other.
enum class ContactKind : std::uint8_t {
    polyps,      ///< by its polyps and mesenterial filaments
    sweepers,    ///< by sweeper tentacles, at night
    touch,       ///< tissue on tissue
    overgrowth,  ///< it touches from above and covers the loser's centre
    chemistry,   ///< by what it gives off into the water, without touch
};

struct Contact {
    int a = -1, b = -1;  ///< colonies, a < b
    double gap_m = 0.0;  ///< between their skeletons
    ContactKind kind = ContactKind::touch;
    double chance_a_wins = 0.5;   ///< of a fight in which both can reach
    int winner = -1, loser = -1;  ///< colonies; -1 in a stand-off
    double touched = 0.0;         ///< share of the loser's outline within reach [0, 1]
    double depth_m = 0.0;         ///< how far in from the loser's edge the winner reaches
    double loss_mm_d = 0.0;       ///< tissue that the loser's edge loses while it does harm
};

/// Tissue lost at the edge of a loser while contact lasts: 0.5 to 3 mm/d were seen by keepers and
/// in maintained sweeper contacts (from memory and analogy); 1 is used.
inline constexpr double kContactLoss_mm_d = 1.0;
/// Sweepers take this long to grow after a contact begins (Chornesky 1983, Agaricia): a contact of
/// kind `sweepers` does harm only once it has lasted so long.
inline constexpr double kSweeperOnset_d = 30.0;
/// Tissue lost at the facing edge to a soft coral's chemistry [mm/d]: a guess, no source, chosen
/// slower than touch and faster than most tissue heals. That it kills near tissue without touch is
/// seen (Sammarco et al. 1983: Porites cylindrica beside Lobophytum).
inline constexpr double kChemistryLoss_mm_d = 0.2;
/// Share of pairs within reach that it harms: most corals within 10 cm of a soft coral were
/// interacting (Griffith 1997); the figure for "most" is a guess.
inline constexpr double kChemistryChance = 0.75;
/// Skeletons this close touch; growth stops kColonyGap_m short of a neighbour on either side.
inline constexpr double kTouch_m = 2.0 * kColonyGap_m;

/// Probability that A beats B: logistic in the difference of their ranks over 15. The ranks follow
/// published aggression indices (as gathered by Carturan et al. 2018); the scale of 15 is an
/// analogy: a rank is seldom right for a pair, and reversals occur (Dai 1990).
double win_probability(double rank_a, double rank_b);

/// What decides a pair in one member of an ensemble: uniform in (0, 1), the same all season.
/// Member 0 is the central one, in which the higher rank always wins: 0.5.
double contact_sample(std::uint64_t seed, std::uint32_t member, int a, int b);

/// Whether a taxon bears what soft corals give off: they do themselves, and so do mats of polyps;
/// stony corals do not (after Sammarco et al. 1983 and Dai 1990; who bears what is known for few).
bool bears_chemistry(const Taxon& taxon);

/// All contacts among the living colonies of a reef, ordered by a, then b. `around` must have seen
/// this reef. Colonies of one taxon tolerate each other (clones do; common practice, no source).
///
/// If only one of a pair reaches the other, that one either wins or, where the draw goes against
/// it, does no harm. Equal ranks stand off in member 0. A soft coral's chemistry is a contact of
/// its own beside that of tentacles: it goes by distance alone, in still or moving water, and the
/// keeper's carbon is not in it.
std::vector<Contact> find_contacts(const Surroundings& around, const Reef& reef,
                                   std::uint64_t seed = 0, std::uint32_t member = 0);

}  // namespace bedshade
