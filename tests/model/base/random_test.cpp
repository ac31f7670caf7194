// Random numbers against published known answers of the generator, and independence of keys.
#include "model/base/random.h"

#include <catch2/catch.hpp>

using namespace bedshade;

TEST_CASE("philox gives the published known answers") {
    // Random123 1.14.0 distribution, examples/kat_vectors (Salmon et al. 2011).
    CHECK(philox({0, 0, 0, 0}, {0, 0}) ==
          std::array<std::uint32_t, 4>{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
    const std::uint32_t ones = 0xffffffff;
    CHECK(philox({ones, ones, ones, ones}, {ones, ones}) ==
          std::array<std::uint32_t, 4>{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
}

TEST_CASE("a stream depends on each of its keys and on nothing else") {
    const auto first = [](std::uint64_t seed, std::uint32_t member, Process process, int day,
                          std::uint32_t index) {
        return RandomStream(seed, member, process, day, index).uniform();
    };
    const double reference = first(1, 0, Process::bioturbation, 3, 2);
    CHECK(first(1, 0, Process::bioturbation, 3, 2) == reference);
    CHECK(first(2, 0, Process::bioturbation, 3, 2) != reference);
    CHECK(first(1ULL << 40U, 0, Process::bioturbation, 3, 2) != reference);
    CHECK(first(1, 1, Process::bioturbation, 3, 2) != reference);
    CHECK(first(1, 0, Process::water, 3, 2) != reference);
    CHECK(first(1, 0, Process::bioturbation, 4, 2) != reference);
    CHECK(first(1, 0, Process::bioturbation, 3, 3) != reference);
}

TEST_CASE("random numbers have the right moments") {
    RandomStream stream(7, 0, Process::traits, 0, 0);
    const int n = 40000;
    double uniform = 0, normal = 0, normal2 = 0, poisson = 0;
    for (int i = 0; i < n; ++i) {
        uniform += stream.uniform();
        const double z = stream.normal();
        normal += z;
        normal2 += z * z;
        poisson += stream.poisson(3.5);
    }
    // Fixed seed; tolerances are four standard errors.
    CHECK(uniform / n == Approx(0.5).margin(4 * 0.2887 / 200));
    CHECK(normal / n == Approx(0.0).margin(4 * 1.0 / 200));
    CHECK(normal2 / n == Approx(1.0).margin(4 * 1.4142 / 200));
    CHECK(poisson / n == Approx(3.5).margin(4 * 1.8708 / 200));
}
