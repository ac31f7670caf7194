// The numbers a broken-off season remembers: back to the same bits, or not at all.
#include "sim/input/layout/memory_text.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace bedshade;

namespace {

ColonyMemory some_memory() {
    ColonyMemory memory;
    memory.drawn = {true, Vec3(0.1, 1.0 / 3.0, 5e-324), {}, 0.05};
    memory.drawn.radius_m.fill(0.1 + 0.2);
    memory.received = memory.drawn;
    memory.top_light = {1e-300, 123456.789012345678, std::nextafter(1.0, 2.0)};
    memory.baseline = {{1.5, 2.5, 3.5}, {0.25}, {1e-17}};
    memory.need_guess = 0.7;
    memory.falls = {{1.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, -1.0, 0.7, 0.8}};
    memory.carbon[1] = {{7.0, -0.25, 1.75}, {14.0, -0.125, 2.0}};
    memory.carbon_day_d = 14.0;
    memory.carbon_mean = -0.0;
    memory.home_m = Vec3(0.3, 0.2, 0.1);
    return memory;
}

std::string with_word(std::string text, std::size_t number, const std::string& word) {
    std::size_t at = 0;
    for (std::size_t i = 0; i < number; ++i) at = text.find(' ', at) + 1;
    return text.replace(at, text.find(' ', at) - at, word);
}

}  // namespace

TEST_CASE("a memory reads back to the same bits") {
    const std::string text = memory_text(some_memory());
    const auto back = colony_memory(text);
    REQUIRE(back);
    CHECK(memory_text(*back) == text);
    CHECK(back->drawn.position_m == some_memory().drawn.position_m);
    CHECK(back->top_light == some_memory().top_light);
    CHECK(back->falls == some_memory().falls);
    CHECK(std::signbit(back->carbon_mean.value()));
    CHECK(back->home_m == some_memory().home_m);

    const TankMemory tank{{0.1, 0.2}, {0.3}};
    const auto tank_back = tank_memory(memory_text(tank));
    REQUIRE(tank_back);
    CHECK(tank_back->bed_light == tank.bed_light);
    CHECK(tank_back->solid_light == tank.solid_light);
}

TEST_CASE("what is no memory is not taken for one") {
    const std::string text = memory_text(some_memory());
    for (std::size_t end = text.find(' '); end != std::string::npos; end = text.find(' ', end + 1))
        REQUIRE_FALSE(colony_memory(text.substr(0, end)));
    CHECK_FALSE(colony_memory(text + " 1"));
    CHECK_FALSE(colony_memory(""));
    CHECK_FALSE(colony_memory(with_word(text, 2, "nan")));
    CHECK_FALSE(colony_memory(with_word(text, 2, "inf")));
    CHECK_FALSE(colony_memory(with_word(text, 2, "1e300")));
    CHECK_FALSE(colony_memory(with_word(text, 2, "0.1m")));
    CHECK_FALSE(colony_memory(with_word(text, 4, "-0.1")));  // a radius
    CHECK_FALSE(colony_memory(with_word(text, 4, "1000")));  // the same, beyond every tank
    for (const char* count : {"1e11", "-1", "2.5", "999999999"})
        CHECK_FALSE(tank_memory(std::string(count) + " 0"));
}
