// Pump settings.
#include "model/flow/pump_settings.h"

#include <catch2/catch.hpp>

using namespace bedshade;

namespace {

Pump pump(const char* name, PumpProgram program, double duty, const char* with = "") {
    Pump p;
    p.name = name;
    p.program = program;
    p.duty = duty;
    p.alternates_with = with;
    return p;
}

double time_running(const std::vector<PumpSetting>& settings, std::size_t p) {
    double sum = 0.0;
    for (const auto& s : settings)
        if (s.running[p]) sum += s.time_share;
    return sum;
}

}  // namespace

TEST_CASE("no pumps or steady pumps give one setting") {
    CHECK(pump_settings({}).size() == 1);
    const auto two =
        pump_settings({pump("a", PumpProgram::steady, 1.0), pump("b", PumpProgram::steady, 1.0)});
    REQUIRE(two.size() == 1);
    CHECK(two[0].running == std::vector<bool>{true, true});
}

TEST_CASE("alternating pumps never run together, pulsing ones are independent") {
    const auto settings = pump_settings({pump("a", PumpProgram::alternate, 0.5, "b"),
                                         pump("p", PumpProgram::pulse, 0.25),
                                         pump("b", PumpProgram::alternate, 0.5, "a")});
    CHECK(settings.size() == 4);
    double total = 0.0;
    for (const auto& s : settings) {
        total += s.time_share;
        CHECK(s.running[0] != s.running[2]);
    }
    CHECK(total == Approx(1.0));
    CHECK(time_running(settings, 0) == Approx(0.5));
    CHECK(time_running(settings, 1) == Approx(0.25));
    CHECK(time_running(settings, 2) == Approx(0.5));
}

TEST_CASE("the number of settings is limited for many pulsing pumps") {
    std::vector<Pump> pumps;
    for (int i = 0; i < 9; ++i) pumps.push_back(pump("p", PumpProgram::pulse, 0.5));
    const auto settings = pump_settings(pumps);
    CHECK(settings.size() == 1U << kMaxSwitching);
    CHECK(time_running(settings, 8) == Approx(1.0));
}
