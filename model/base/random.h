// Counter-based random numbers: each number is a function of its key, never of the order of calls.
//
// The key is seed, member, process, day and index, so that adding a pump does not change the random
// numbers of a fish, and results depend neither on threads nor on where a member runs. Generator:
// Philox4x32-10 (Salmon, Moraes, Dror & Shaw 2011, SC'11), from the Random123 library.
#pragma once

#include <array>
#include <cstdint>

namespace bedshade {

/// Purpose of a stream. The values affect results: never renumber, only append.
enum class Process : std::uint32_t {
    bioturbation = 1,
    lamp_sampling = 2,
    traits = 3,
    water = 4,
    contact = 5,
    stability = 6,
    walking = 7,
    monte_carlo = 8,
    radiosity = 9,
    permutation = 10,
};

/// A stream of random numbers for one process, day and index (inhabitant, colony, receptor, ...).
class RandomStream {
  public:
    RandomStream(std::uint64_t seed, std::uint32_t member, Process process, std::int32_t day,
                 std::uint32_t index);

    /// Uniform in (0, 1), with 32 bits.
    double uniform();
    /// Normal with mean 0 and standard deviation 1 (Box & Muller 1958).
    double normal();
    /// Number of events of a Poisson process with this mean (inversion; the mean must be <= 500).
    int poisson(double mean);

  private:
    std::uint32_t next();

    std::array<std::uint32_t, 2> key_;
    std::array<std::uint32_t, 4> counter_;
    std::array<std::uint32_t, 4> block_{};
    int used_ = 4;
};

/// The raw generator, for known-answer checks: Philox4x32-10 of one counter and key.
std::array<std::uint32_t, 4> philox(const std::array<std::uint32_t, 4>& counter,
                                    const std::array<std::uint32_t, 2>& key);

}  // namespace bedshade
