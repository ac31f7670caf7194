// Where sand goes, and rock that rests on it.
#include "sim/verdict/bed_change.h"

#include <catch2/catch.hpp>

#include "sim/report/bed_text.h"
#include "sim/report/comparison_report.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

/// A box of rock in the middle of the bed, by what it rests on.
Layout with_rock(RestsOn rests_on) {
    Layout layout = black_tank();
    Rock rock;
    rock.name = "islet";
    rock.shape = RockBox{Vec3(0.9, 0.9, 0.0), Vec3(1.1, 1.1, 0.2)};
    rock.rests_on = rests_on;
    layout.rocks = {rock};
    return layout;
}

/// The bed in cells of 5 cm, still but for one of them.
struct Bed {
    BedGrid grid{40, 40, 0.05, 0.05};
    std::vector<double> mm = std::vector<double>(40 * 40, 0.0);

    Bed with(double x_m, double y_m, double mm_month) const {
        Bed bed = *this;
        bed.mm[grid.index(grid.column_at(x_m), grid.row_at(y_m))] = mm_month;
        return bed;
    }
};

/// What changes the bed's height by so much a month.
double net_change_of(const Substrate& sand, double mm_month) {
    return mm_month * sand.density_kg_m3 * (1.0 - sand.porosity) * 1e-3 / 30.4375;
}

std::size_t undermined(const Layout& layout, const Bed& bed) {
    return undermined_rocks(layout, bed.grid, bed.mm).size();
}

}  // namespace

TEST_CASE("lost sand lowers the bed by its bulk volume") {
    Substrate sand;
    sand.density_kg_m3 = 2800.0;
    sand.porosity = 0.5;
    // 1 mm is 1.4 kg/m2; a month has 30.4375 days.
    const auto mm = net_change_mm_month(sand, {-1.4 / 30.4375, 0.0, 2.8 / 30.4375});
    CHECK(mm[0] == Approx(-1.0));
    CHECK(mm[1] == 0.0);
    CHECK(mm[2] == Approx(2.0));
}

TEST_CASE("the points of largest loss and gain are found") {
    const Bed bed = Bed{}.with(0.52, 1.03, -4.0).with(1.52, 0.52, 3.0).with(0.1, 0.1, -1.0);
    const BedChange drift = extremes_of(bed.grid, bed.mm);
    CHECK(drift.scoured.mm_month == -4.0);
    CHECK(drift.scoured.site_m.x() == Approx(0.525));
    CHECK(drift.scoured.site_m.y() == Approx(1.025));
    CHECK(drift.filled.mm_month == 3.0);
    CHECK(bed_change_text(with_rock(RestsOn::sand), Bed{}.grid, Bed{}.mm).find("No spot") == 0);
}

TEST_CASE("undermined rock on sand is reported, rock on the floor is not") {
    const Bed beside = Bed{}.with(0.875, 1.0, -5.0), apart = Bed{}.with(0.6, 1.0, -5.0);
    CHECK(undermined(with_rock(RestsOn::sand), beside) == 1);
    CHECK(undermined(with_rock(RestsOn::sand), apart) == 0);
    CHECK(undermined(with_rock(RestsOn::glass), beside) == 0);
    CHECK(undermined(with_rock(RestsOn::sand), Bed{}.with(0.875, 1.0, -0.5)) == 0);
    CHECK(undermined(with_rock(RestsOn::sand), Bed{}.with(0.875, 1.0, 5.0)) == 0);
}

TEST_CASE("an animal that digs beside rock on sand is named, with the caution") {
    Layout layout = with_rock(RestsOn::sand);
    Inhabitant goby;
    goby.name = "goby";
    goby.events_per_day = 100.0;
    goby.mass_kg = 1e-3;
    goby.around_m = Vec2(0.5, 1.0);
    goby.radius_m = 0.2;
    layout.inhabitants = {goby};
    const Bed still;
    CHECK(undermined(layout, still) == 0);
    layout.inhabitants[0].radius_m = 0.5;
    REQUIRE(undermined(layout, still) == 1);
    const std::string text = undermined_text(layout, still.grid, still.mm);
    CHECK(text.find("rockwork can fall") != std::string::npos);
    CHECK(text.find("'islet' rests on sand, and 'goby' can dig beside it") != std::string::npos);
    layout.inhabitants[0].does = Habit::dwell_at_bases;
    CHECK(undermined(layout, still) == 0);
}

TEST_CASE("a comparison reports rock that both runs undermine") {
    const Layout layout = with_rock(RestsOn::sand);
    const Bed bed = Bed{}.with(0.875, 1.0, net_change_of(layout.substrate, -5.0));
    Arm before;
    before.layout = &layout;
    before.grid = bed.grid;
    before.bed = {bed.mm, bed.mm, bed.mm, bed.mm};
    Arm after = before;
    after.bed.ppfd_umol_m2_s[0] = 1.0;
    const std::string text = comparison_text(before, after, compared(before, after));
    CHECK(text.find("'islet' rests on sand, and the bed beside it sinks by 5.0 mm a month") !=
          std::string::npos);
    CHECK(text.find("Without the change.") == std::string::npos);
    after.bed.net_change_kg_m2_d = Bed{}.mm;
    CHECK(
        comparison_text(before, after, compared(before, after)).find("With the change. No spot") !=
        std::string::npos);
}

TEST_CASE("a map shows zero without a sign") {
    const Layout layout = with_rock(RestsOn::glass);
    const Bed hardly = Bed{}.with(0.1, 0.1, net_change_of(layout.substrate, -0.01));
    const Bed clearly = hardly.with(1.9, 1.9, net_change_of(layout.substrate, -200.0));
    Arm before;
    before.layout = &layout;
    before.grid = hardly.grid;
    before.bed = {hardly.mm, hardly.mm, hardly.mm, hardly.mm};
    Arm after = before;
    after.bed.net_change_kg_m2_d = clearly.mm;
    const std::string text = comparison_text(before, after, compared(before, after));
    CHECK(text.find("net bed change, mm a month") != std::string::npos);
    CHECK(text.find("-8.0") != std::string::npos);
    CHECK(text.find("-0.0") == std::string::npos);
}

TEST_CASE("how long the sand lasts is reported if it is gone within the run") {
    Layout layout = with_rock(RestsOn::glass);
    layout.substrate.depth_m = 0.05;
    layout.season.months = 24;
    const Bed bed = Bed{}.with(0.5, 0.5, net_change_of(layout.substrate, -10.0));
    CHECK(
        bed_change_text(layout, bed.grid, bed.mm)
            .find(
                "10.0 mm a month; at that rate the 5 cm of sand there would be gone in 5 months") !=
        std::string::npos);
    layout.season.months = 3;
    CHECK(bed_change_text(layout, bed.grid, bed.mm).find("gone") == std::string::npos);
}
