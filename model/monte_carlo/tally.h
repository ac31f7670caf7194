// Tally of a Monte Carlo run: where photons landed, how they ended, and standard errors.
//
// Photons are unweighted: each ends in exactly one way, so the balance of ends closes exactly in
// whole photons. Light is the number of photons times the photon flux that one photon of its lamp
// represents.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace bedshade::monte_carlo {

/// How a photon ends.
enum class End : std::size_t {
    missed,    ///< did not enter the tank
    cover,     ///< absorbed by the lid or net
    above,     ///< left through the top
    panes,     ///< left through a side
    water,     ///< absorbed
    sand,      ///< absorbed
    rock,      ///< absorbed
    corals,    ///< absorbed
    walls,     ///< absorbed by a black, overgrown or painted side
    followed,  ///< stopped after PhotonHistory::kMaxEvents events
};
inline constexpr std::array kEnds = {End::missed, End::cover,   End::above, End::panes,
                                     End::water,  End::sand,    End::rock,  End::corals,
                                     End::walls,  End::followed};

/// Description of an end for messages.
const char* to_string(End end);

/// Tally of one batch. Places are bed cells row by row, then sensors.
struct BatchTally {
    BatchTally(std::size_t places, std::size_t lamps)
        : landed(places * lamps, 0), ended(kEnds.size() * lamps, 0) {}

    std::vector<std::uint32_t> landed;  ///< [place][lamp]
    std::vector<std::uint64_t> ended;   ///< [end][lamp]
};

/// Monte Carlo estimate of the light at one place.
struct LightEstimate {
    std::vector<double> by_lamp_umol_m2_s;
    double ppfd_umol_m2_s = 0.0;
    double stderr_umol_m2_s =
        0.0;  ///< standard error from the variance between batches; 0 where no photon landed
};

class Tally {
  public:
    /// Batches (at least 2) of equal size, in order. A photon of lamp l represents
    /// `photon_umol_s[l]`, and `sent[l]` of them were traced; `area_m2` by place.
    Tally(std::vector<BatchTally> batches, std::vector<double> photon_umol_s,
          std::vector<std::uint64_t> sent, std::vector<double> area_m2);

    LightEstimate light_at(std::size_t place) const;
    /// Number of photons of all lamps that were traced, and that ended in this way.
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
