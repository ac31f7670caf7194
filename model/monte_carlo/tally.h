// Photons counted: where they landed, how they ended, and how sure the counts are.
//
// A photon is never weighted: it lands or it does not, and it ends in one way. So the ledger of
// ends closes exactly, in whole photons, and light is counts times what one photon of its lamp
// stands for.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace bedshade::monte_carlo {

/// How a photon ends.
enum class End : std::size_t {
    missed,    ///< never came into the tank: lamp light that falls beside it
    cover,     ///< kept by the lid or net
    above,     ///< out of the top again
    panes,     ///< out through a side
    water,     ///< absorbed
    sand,      ///< absorbed
    rock,      ///< absorbed
    corals,    ///< absorbed
    walls,     ///< absorbed by a black, overgrown or painted side
    followed,  ///< given up after very many bounces
};
inline constexpr std::array kEnds = {End::missed, End::cover,   End::above, End::panes,
                                     End::water,  End::sand,    End::rock,  End::corals,
                                     End::walls,  End::followed};

/// The end in plain words.
const char* to_string(End end);

/// What one batch of photons did. Counts are by place (bed cells row by row, then sensors) and
/// lamp.
struct BatchTally {
    BatchTally(std::size_t places, std::size_t lamps)
        : landed(places * lamps, 0), ended(kEnds.size() * lamps, 0) {}

    std::vector<std::uint32_t> landed;  ///< [place][lamp]
    std::vector<std::uint64_t> ended;   ///< [end][lamp]
};

/// Light at one place.
struct LightEstimate {
    std::vector<double> by_lamp_umol_m2_s;
    double ppfd_umol_m2_s = 0.0;
    double stderr_umol_m2_s = 0.0;  ///< from the scatter of the batches; 0 where none was counted
};

class Tally {
  public:
    /// Batches (at least 2) of equal size, in order. A photon of lamp l stands for
    /// `photon_umol_s[l]`, and `sent[l]` of them were followed; places have these areas.
    Tally(std::vector<BatchTally> batches, std::vector<double> photon_umol_s,
          std::vector<std::uint64_t> sent, std::vector<double> area_m2);

    LightEstimate light_at(std::size_t place) const;
    /// Photons of all lamps that were followed, and that ended so.
    std::uint64_t sent() const;
    std::uint64_t ended(End end) const;
    /// The same as photon flux [umol/s].
    double sent_umol_s() const;
    double ended_umol_s(End end) const;

  private:
    std::size_t lamps() const { return photon_umol_s_.size(); }

    std::vector<BatchTally> batches_;
    std::vector<double> photon_umol_s_;
    std::vector<std::uint64_t> sent_;
    std::vector<double> area_m2_;
};

}  // namespace bedshade::monte_carlo
