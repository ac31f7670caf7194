// What a keeper measured, read from CSV; and what is said of a file that is invalid.
#include "sim/input/layout/measurements.h"

#include <catch2/catch.hpp>

#include "sim/base/calendar.h"
#include "sim/input/text/diagnostic.h"

#include "tests/layouts.h"
#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;
using bedshade::test::black_tank;
using bedshade::test::colony_at;

namespace {

Layout tank() {
    Layout layout = black_tank();
    layout.season.start = *calendar_day(2027, 1, 1);
    layout.season.months = 12;
    layout.colonies = {colony_at("ledge plate", 0, Vec3(1.0, 1.0, 0.2), 0.1, 0.02)};
    return layout;
}

class File {
  public:
    explicit File(const std::string& text) { std::ofstream(path()) << text; }
    std::filesystem::path path() const { return folder_ / "measured.csv"; }

  private:
    synthetic::Folder folder_;
};

/// All that is said of a file, joined.
template <class Read>
std::string error_of(Read read, const std::string& text) {
    const File file(text);
    try {
        read(file.path(), tank());
    } catch (const InputError& error) {
        std::string all;
        for (const Diagnostic& d : error.diagnostics())
            all += std::to_string(d.line) + ":" + std::to_string(d.column) + " " + d.what + " (" +
                   d.help + ")\n";
        return all;
    }
    return "";
}

}  // namespace

TEST_CASE("meter readings come with their place, day, sensor and immersion") {
    const File file(
        "ppfd_umol_m2_s,x_cm,y_cm,z_cm,sensor,on,immersion\n"
        "110,60,30,0,,,\n"
        "240,60,30,30,scalar,2027-01-15,1.08\n");
    const auto readings = read_meter_readings(file.path(), tank());
    REQUIRE(readings.size() == 2);
    CHECK(readings[0].at_m.isApprox(Vec3(0.6, 0.3, 0.0)));
    CHECK(readings[0].ppfd_umol_m2_s == 110.0);
    CHECK(readings[0].on_d == 0.0);
    CHECK(readings[0].sensor == Sensor::planar);
    CHECK(readings[1].sensor == Sensor::scalar);
    CHECK(readings[1].on_d == 14.0);
    CHECK(readings[1].ppfd_umol_m2_s == Approx(259.2));
}

TEST_CASE("every invalid reading is reported with its line and the allowed values") {
    const std::string header = "x_cm,y_cm,z_cm,ppfd_umol_m2_s,on,sensor,immersion\n";
    const auto said = [&](const std::string& rows) {
        return error_of(read_meter_readings, header + rows);
    };
    CHECK(said("60,30,0,110,,,\n") == "");
    CHECK(said("260,30,0,110,,,\n") ==
          "2:1 x_cm is 260, outside the tank's water (allowed: 0 to 200)\n");
    CHECK(said("60,30,60,110,,,\n") ==
          "2:7 z_cm is 60, outside the tank's water (allowed: 0 to 50)\n");
    CHECK(said("60,30,0,bright,,,\n") ==
          "2:9 ppfd_umol_m2_s is 'bright', but must be a number (allowed: 0 to 5000)\n");
    CHECK(said("60,30,0,-3,,,\n") ==
          "2:9 ppfd_umol_m2_s is -3, which is out of range (allowed: 0 to 5000)\n");
    CHECK(said("60,30,0,110,1 March,,\n") ==
          "2:13 on is '1 March', but must be a date (write 2027-03-01)\n");
    CHECK(said("60,30,0,110,,round,\n") == "2:14 sensor is 'round' (allowed: planar, scalar)\n");
    CHECK(said("60,30,0,110,,,9\n") ==
          "2:15 immersion is 9, which is out of range (allowed: 0.5 to 2)\n");
    // All of a file's faults in one pass.
    CHECK(said("60,30,0,nan,,,\n60,30,0,1e999,,,\n60,30\n").find("4:0 this row has 2 cells") !=
          std::string::npos);
}

TEST_CASE("a table without its columns or rows is refused") {
    const auto said = [](const std::string& text) { return error_of(read_meter_readings, text); };
    CHECK(said("").find("has no rows") != std::string::npos);
    CHECK(said("x_cm,y_cm,z_cm,ppfd_umol_m2_s\n").find("has no rows") != std::string::npos);
    CHECK(said("x_cm,y_cm,z_cm,par\n1,2,3,4\n") ==
          "1:0 the column 'ppfd_umol_m2_s' is missing (needed: x_cm, y_cm, z_cm, ppfd_umol_m2_s)\n"
          "1:16 'par' is not a column of this table (allowed: x_cm, y_cm, z_cm, ppfd_umol_m2_s, "
          "on, sensor, immersion)\n");
    CHECK(said("x_cm,x_cm,y_cm,z_cm,ppfd_umol_m2_s\n1,1,2,3,4\n") ==
          "1:6 the column 'x_cm' appears twice ()\n");
    // Each is looked for among those before it: a million of them would take hours.
    std::string wide = "x_cm";
    for (int i = 0; i < 100; ++i) wide += ",x";
    CHECK(said(wide + "\n1\n") ==
          "1:0 this table has 101 columns (allowed: x_cm, y_cm, z_cm, ppfd_umol_m2_s, on, sensor, "
          "immersion)\n");
    CHECK_THROWS_AS(read_meter_readings("/nowhere/meter.csv", tank()), InputError);
}

TEST_CASE("diameters name a colony of the layout, on a day of its run") {
    const File file("colony,on,diameter_cm\nledge plate,2027-07-01,12.5\n");
    const auto diameters = read_diameters(file.path(), tank());
    REQUIRE(diameters.size() == 1);
    CHECK(diameters[0].colony == 0);
    CHECK(diameters[0].on_d == 181.0);
    CHECK(diameters[0].across_m == Approx(0.125));
    const auto said = [](const std::string& row) {
        return error_of(read_diameters, "colony,on,diameter_cm\n" + row);
    };
    CHECK(said("ledge plat,2027-07-01,12\n") ==
          "2:1 the layout has no colony 'ledge plat' (did you mean 'ledge plate'?)\n");
    CHECK(said("ledge plate,2027-01-01,12\n").find("outside the run") != std::string::npos);
    CHECK(said("ledge plate,2029-01-01,12\n").find("to 2028-01-01") != std::string::npos);
    CHECK(said("ledge plate,,12\n").find("must be a date") != std::string::npos);
}

TEST_CASE("a reading of another century, and a table too long, are refused") {
    CHECK(error_of(read_meter_readings, "x_cm,y_cm,z_cm,ppfd_umol_m2_s,on\n5,5,2,60,1727-01-01\n")
              .find("this day is more than a century from the start of the run") !=
          std::string::npos);
    std::string endless = "x_cm,y_cm,z_cm,ppfd_umol_m2_s\n";
    for (int row = 0; row < 10'000; ++row) endless += "5,5,2,60\n";
    CHECK(error_of(read_meter_readings, endless)
              .find("this table has 10001 rows (at most 10000 are allowed)") != std::string::npos);
}
