#include "sim/input/text/units.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <thread>

using namespace bedshade;

namespace {

double value_of(const char* text, const Quantity& kind) {
    const auto read = read_quantity(text, kind);
    if (const auto* complaint = std::get_if<ParseError>(&read))
        FAIL(text << " " << complaint->what);
    return std::get<double>(read);
}

ParseError error_about(const char* text, const Quantity& kind) {
    const auto read = read_quantity(text, kind);
    if (const auto* value = std::get_if<double>(&read)) FAIL(text << " was read as " << *value);
    return std::get<ParseError>(read);
}

}  // namespace

TEST_CASE("lengths follow the international inch of 25.4 mm") {
    // International yard and pound agreement (1959): 1 yd = 0.9144 m exactly.
    CHECK(value_of("24 in", kLength) == Approx(0.6096).epsilon(1e-14));
    CHECK(value_of("1 ft", kLength) == Approx(0.3048).epsilon(1e-14));
    CHECK(value_of("1 yd", kLength) == Approx(0.9144).epsilon(1e-14));
    CHECK(value_of("2.5cm", kLength) == Approx(0.025).epsilon(1e-14));
    CHECK(value_of("+1200 mm", kLength) == Approx(1.2).epsilon(1e-14));
    CHECK(value_of("10 um", kParticleSize) == Approx(1e-5).epsilon(1e-14));
    CHECK(value_of("10 µm", kParticleSize) == Approx(1e-5).epsilon(1e-14));
}

TEST_CASE("a US gallon is 231 cubic inches") {
    // NIST Handbook 44, appendix C: 231 in3 = 3.785411784 L; the udunits2 table rounds it to
    // 3.785412 L, 6e-8 of it.
    CHECK(value_of("1 gallon/h", kFlow) == Approx(3.785411784e-3 / 3600.0).epsilon(1e-7));
    CHECK(value_of("6000 L/h", kFlow) == Approx(6.0 / 3600.0).epsilon(1e-14));
    CHECK(value_of("100 L/min", kFlow) == Approx(0.1 / 60.0).epsilon(1e-14));
    CHECK(value_of("1 m3/h", kFlow) == Approx(1.0 / 3600.0).epsilon(1e-14));
}

TEST_CASE("masses, densities and concentrations") {
    // International yard and pound agreement (1959): 1 lb = 0.45359237 kg exactly.
    CHECK(value_of("1 lb", kMass) == Approx(0.45359237).epsilon(1e-14));
    CHECK(value_of("1.5 g", kMass) == Approx(0.0015).epsilon(1e-14));
    CHECK(value_of("2.75 g/cm3", kDensity) == Approx(2750.0).epsilon(1e-12));
    CHECK(value_of("0.5 mg/L", kConcentration) == Approx(5e-4).epsilon(1e-12));
}

TEST_CASE("durations and angles") {
    CHECK(value_of("7 d", kDays) == Approx(7.0));
    CHECK(value_of("6 weeks", kDays) == Approx(42.0).epsilon(1e-14));
    CHECK(value_of("6 weeks", kWeeks) == Approx(6.0).epsilon(1e-14));
    CHECK(value_of("2 h", kHours) == Approx(2.0).epsilon(1e-14));
    CHECK(value_of("90 min", kHours) == Approx(1.5).epsilon(1e-14));
    CHECK(value_of("2 min", kSeconds) == Approx(120.0).epsilon(1e-14));
    CHECK(value_of("180 deg", kAngle) == Approx(3.14159265358979).epsilon(1e-13));
    CHECK(value_of("1 rad", kAngle) == Approx(1.0));
}

TEST_CASE("temperatures are converted with their zero") {
    // The Fahrenheit scale: 32 degF = 0 degC, 212 degF = 100 degC by definition.
    CHECK(value_of("78 degF", kTemperature) == Approx(46.0 / 1.8).epsilon(1e-12));
    CHECK(value_of("32 degF", kTemperature) == Approx(0.0).margin(1e-10));
    CHECK(value_of("25.5 degC", kTemperature) == Approx(25.5).epsilon(1e-12));
    CHECK(value_of("298.15 K", kTemperature) == Approx(25.0).epsilon(1e-12));
}

TEST_CASE("misleading units are refused with the right one") {
    CHECK(error_about("800 gal/h", kFlow).what.find("galileo") != std::string::npos);
    CHECK(error_about("800 gal/h", kFlow).help == "write \"gallon/h\"");
    CHECK(error_about("24\"", kLength).help == "write \"in\" for inches");
    CHECK(error_about("5'", kLength).help == "write \"ft\" for feet");
    CHECK(error_about("800 gph", kFlow).help == "write \"gallon/h\"");
    CHECK(error_about("2 months", kDays).what.find("no fixed length") != std::string::npos);
    CHECK(error_about("60 CM", kLength).help == "did you mean `cm`?");
}

TEST_CASE("a unit of another dimension is refused") {
    CHECK(error_about("24 kg", kLength).what == "has the unit `kg`, but must be a length");
    CHECK(error_about("24 L", kFlow).what == "has the unit `L`, but must be a flow");
    // udunits2 would turn 5 Hz into 0.2 s, and 5 % into 0.05 rad.
    CHECK(error_about("5 Hz", kSeconds).what == "has the unit `Hz`, but must be a duration");
    CHECK(error_about("5 %", kAngle).what == "has the unit `%`, but must be an angle");
    CHECK(error_about("5 1 cm", kLength).what == "has 2 numbers instead of one");
}

TEST_CASE("texts that are not one quantity are refused") {
    CHECK(error_about("24", kLength).what == "has no unit");
    CHECK(error_about("", kLength).what == "does not begin with a number");
    CHECK(error_about("cm", kLength).what == "does not begin with a number");
    CHECK(error_about("2,5 cm", kLength).what == "has a comma in its number");
    CHECK(error_about("2 ft 3 in", kLength).what == "has more than one number and unit");
    CHECK(error_about("1e400 cm", kLength).what == "is not a finite number");
    CHECK(error_about("nan cm", kLength).what == "is not a finite number");
    CHECK(error_about("inf cm", kLength).what == "is not a finite number");
    CHECK_FALSE(error_about("3 (2 cm)", kLength).what.empty());
    CHECK_FALSE(error_about("3 cm @ 5", kLength).what.empty());
    CHECK_FALSE(error_about(("3 " + std::string(10000, 'm')).c_str(), kLength).what.empty());
}

TEST_CASE("a point shares one unit") {
    const auto read = read_quantities("30 25 4 cm", kLength);
    const auto& xyz = std::get<std::vector<double>>(read);
    REQUIRE(xyz.size() == 3);
    CHECK(xyz[0] == Approx(0.30));
    CHECK(xyz[1] == Approx(0.25));
    CHECK(xyz[2] == Approx(0.04));
}

TEST_CASE("units can be read from several threads", "[threads]") {
    std::atomic<int> right{0};
    std::vector<std::thread> threads;
    for (int t = 0; t < 4; ++t)
        threads.emplace_back([&] {
            for (int i = 0; i < 2000; ++i) {
                const auto read = read_quantity("24 in", kLength);
                const auto* value = std::get_if<double>(&read);
                if (value && *value > 0.6095 && *value < 0.6097) ++right;
            }
        });
    for (auto& thread : threads) thread.join();
    CHECK(right == 8000);
}
