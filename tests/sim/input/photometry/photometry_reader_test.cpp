// Photometric files written by hand to each revision of LM-63, and files with one fault each.
//
// Faults: photometry/broken/NAME.ies beside NAME.txt, the whole message each must bring. When a
// message is changed on purpose, run the tests with BEDSHADE_REWRITE_MESSAGES=1, and read what they
// wrote before you keep it.
#include "sim/input/photometry/photometry_reader.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fmt/format.h>

#include "model/base/random.h"
#include "model/light/photometric_beam.h"

#include "tests/expected_messages.h"

using namespace bedshade;
using namespace bedshade::test;
namespace fs = std::filesystem;

namespace {

const fs::path kFiles = fs::path(BEDSHADE_SOURCE_DIR) / "tests/sim/input/photometry";

Photometry photometry_of(const std::string& name) {
    Diagnostics diagnostics;
    auto read = read_photometry(text_of(kFiles / name), name, diagnostics);
    diagnostics.throw_if_any();
    REQUIRE(read);
    return std::move(*read);
}

std::string message_for(const std::string& text, const std::string& name) {
    Diagnostics diagnostics;
    try {
        const auto read = read_photometry(text, name, diagnostics);
        diagnostics.throw_if_any();
        return read ? "read without errors\n" : "refused without a word\n";
    } catch (const InputError& error) {
        return error.what();
    }
}

/// Candela in a direction given by its own two numbers: `down_deg` from straight down, `round_deg`
/// from the lamp's side toward its width.
double candela(const Photometry& photometry, double down_deg, double round_deg) {
    const double down = down_deg * kPi / 180.0, round = round_deg * kPi / 180.0;
    const Vec3 direction(std::sin(down) * std::cos(round), std::sin(down) * std::sin(round),
                         -std::cos(down));
    return flux_of(*photometry.web) *
           PhotometricBeam(photometry.web, LampFrame{}).per_sr(direction);
}

Approx about(double value) { return Approx(value).epsilon(1e-9).margin(1e-9); }

}  // namespace

TEST_CASE("photometry of every year is read, and only old files multiply the third factor") {
    struct Row {
        const char* file;
        PhotometryVersion version;
        double factor;
    };
    // Multiplier 2 and ballast factor 0.9; the number after it counts up to 1991 (LM-63-1991), is
    // unused up to 2002, and says 1.10000 as a code in 2019.
    const Row row = GENERATE(Row{"axial_1986.ies", PhotometryVersion::of_1986, 1.98},
                             Row{"axial_1991.ies", PhotometryVersion::of_1991, 1.98},
                             Row{"axial_1995.ies", PhotometryVersion::of_1995, 1.8},
                             Row{"axial_2002.ies", PhotometryVersion::of_2002, 1.8},
                             Row{"axial_2019.ies", PhotometryVersion::of_2019, 1.8});
    CAPTURE(row.file);
    const Photometry read = photometry_of(row.file);
    CHECK(read.version == row.version);
    CHECK(read.rated_lumens == 6000.0);
    CHECK(read.input_watts == 100.0);
    for (const double round : {0.0, 77.0, 200.0}) {
        CHECK(candela(read, 0.0, round) == about(row.factor * 1000.0));
        CHECK(candela(read, 45.0, round) == about(row.factor * 683.0));
        CHECK(candela(read, 90.0, round) == Approx(0.0).margin(1e-6));
        CHECK(candela(read, 91.0, round) == 0.0);
    }
}

TEST_CASE("numbers may be separated by commas, blanks and line ends") {
    const Photometry loose = photometry_of("loose_layout.ies");
    CHECK(loose.web->intensity == photometry_of("axial_2002.ies").web->intensity);
    const std::string text = text_of(kFiles / "axial_2002.ies");
    std::string windows;
    for (const char c : text) windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
    Diagnostics diagnostics;
    const auto read = read_photometry(windows, "windows.ies", diagnostics);
    REQUIRE(read);
    CHECK(read->web->intensity == loose.web->intensity);
    CHECK(read->text == text);
}

TEST_CASE("the luminous opening is read in feet or metres, round or square") {
    const Photometry feet = photometry_of("axial_1986.ies");  // 1 wide, 0.5 long, in feet
    CHECK(feet.shape == LampShape::rectangle);
    CHECK(feet.size_m.isApprox(Vec2(0.1524, 0.3048)));
    const Photometry metres = photometry_of("bilateral.ies");  // a box of 0.1 x 0.4 x 0.05 m
    CHECK(metres.shape == LampShape::rectangle);
    CHECK(metres.size_m.isApprox(Vec2(0.4, 0.1)));
    const Photometry disc = photometry_of("other_bilateral.ies");
    CHECK(disc.shape == LampShape::disc);
    CHECK(disc.size_m.isApprox(Vec2(0.3, 0.3)));
    const Photometry old_disc = photometry_of("axial_1991.ies");  // a diameter of 1 ft given once
    CHECK(old_disc.shape == LampShape::disc);
    CHECK(old_disc.size_m.isApprox(Vec2(0.3048, 0.3048)));
    CHECK(photometry_of("axial_2002.ies").shape == LampShape::point);
}

TEST_CASE("a quarter of a web is mirrored into the other three") {
    const Photometry read = photometry_of("quadrant.ies");
    CHECK(candela(read, 45.0, 0.0) == about(80.0));
    CHECK(candela(read, 45.0, 180.0) == about(80.0));
    CHECK(candela(read, 45.0, 90.0) == about(40.0));
    CHECK(candela(read, 45.0, 270.0) == about(40.0));
    for (const double round : {20.0, 160.0, 200.0, 340.0})
        CHECK(candela(read, 30.0, round) ==
              about((100.0 + 2.0 * (80.0 - 20.0 * 20.0 / 45.0)) / 3.0));
}

TEST_CASE("half a web is mirrored about the plane its angles begin and end in") {
    const Photometry read = photometry_of("bilateral.ies");
    CHECK(candela(read, 45.0, 0.0) == about(90.0));
    CHECK(candela(read, 45.0, 180.0) == about(20.0));
    CHECK(candela(read, 45.0, 45.0) == about(70.0));
    CHECK(candela(read, 45.0, -45.0) == about(70.0));
    const Photometry other = photometry_of("other_bilateral.ies");
    CHECK(candela(other, 45.0, 180.0) == about(90.0));
    CHECK(candela(other, 45.0, 90.0) == about(50.0));
    CHECK(candela(other, 45.0, 270.0) == about(20.0));
    CHECK(candela(other, 45.0, 135.0) == about(70.0));
    CHECK(candela(other, 45.0, 45.0) == about(70.0));
    CHECK(candela(other, 45.0, 0.0) == about(90.0));
    CHECK(candela(other, 45.0, 315.0) == about(55.0));
}

TEST_CASE("a whole web is taken as it is, from below and from above") {
    const Photometry read = photometry_of("all_round.ies");
    CHECK(read.rated_lumens == 0.0);
    CHECK(candela(read, 45.0, 0.0) == about(90.0));
    CHECK(candela(read, 45.0, 90.0) == about(70.0));
    CHECK(candela(read, 45.0, 180.0) == about(20.0));
    CHECK(candela(read, 45.0, 270.0) == about(50.0));
    CHECK(candela(read, 67.5, 45.0) == about(0.25 * (90.0 + 70.0 + 40.0 + 30.0)));
    CHECK(candela(read, 67.5, 315.0) == about(0.25 * (90.0 + 50.0 + 40.0 + 20.0)));
    CHECK(candela(read, 135.0, 0.0) == about(10.0));
    const Photometry up = photometry_of("upward.ies");
    CHECK(candela(up, 89.0, 10.0) == 0.0);
    CHECK(candela(up, 135.0, 10.0) == about(50.0));
    CHECK(backward_fraction(*up.web) == about(1.0));
    CHECK(backward_fraction(*photometry_of("axial_2002.ies").web) == 0.0);
}

TEST_CASE("type B turns about the lamp's width") {
    const Photometry read = photometry_of("type_b.ies");
    CHECK(candela(read, 0.0, 0.0) == about(100.0));
    CHECK(candela(read, 45.0, 90.0) == about(60.0));   // half way to the pole along the width
    CHECK(candela(read, 45.0, -90.0) == about(50.0));  // half way to the dark one
    CHECK(candela(read, 45.0, 0.0) == about(70.0));    // toward the side, at horizontal 45
    CHECK(candela(read, 45.0, 180.0) == about(55.0));  // away from it, at horizontal -45
    CHECK(candela(read, 95.0, 0.0) == 0.0);
    CHECK(candela(read, 95.0, 180.0) == 0.0);
    const Photometry quarter = photometry_of("type_b_quarter.ies");
    for (const double round : {0.0, 180.0}) CHECK(candela(quarter, 45.0, round) == about(60.0));
    for (const double round : {90.0, 270.0}) CHECK(candela(quarter, 45.0, round) == about(50.0));
}

TEST_CASE("tilt factors are read, and do not change the distribution") {
    const Photometry read = photometry_of("tilted.ies");
    CHECK(read.web->intensity == photometry_of("axial_2002.ies").web->intensity);
    CHECK(tilt_factor_at(read, 0.0) == 1.0);
    CHECK(tilt_factor_at(read, 30.0 * kPi / 180.0) == Approx(1.0 - 0.1 * 30.0 / 45.0));
    CHECK(tilt_factor_at(read, 67.5 * kPi / 180.0) == Approx(0.8));
    CHECK(tilt_factor_at(read, kPi) == 0.7);
    CHECK(tilt_factor_at(photometry_of("axial_2002.ies"), 1.0) == 1.0);
}

TEST_CASE("every broken photometric file gives its expected message") {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(kFiles / "broken"))
        if (entry.path().extension() == ".ies") files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    REQUIRE(files.size() >= 30);
    for (const auto& file : files)
        check_message(message_for(text_of(file), file.filename().string()), file);
}

TEST_CASE("photometry with random changed bytes is read or refused without a crash") {
    const std::string good = text_of(kFiles / "all_round.ies");
    CHECK(message_for("", "empty.ies").find("there is no line TILT=") != std::string::npos);
    CHECK(message_for(good + std::string(kLargestPhotometry, ' '), "large.ies")
              .find("large.ies: error: this file has 2.0 MB") == 0);
    CHECK(message_for(good + std::string(300, 'x'), "tail.ies").find("xxxxx...`") !=
          std::string::npos);
    RandomStream random(5, 0, Process::traits, 0, 0);
    const std::string pool = "0123456789.-+eE, \n=TILxn\xC3\x01";
    const auto pick = [&](std::size_t size) {
        return static_cast<std::size_t>(random.uniform() * static_cast<double>(size));
    };
    int refused = 0;
    for (int round = 0; round < 2000; ++round) {
        std::string text = good;
        for (int i = 0; i < 1 + round % 4; ++i) text[pick(text.size())] = pool[pick(pool.size())];
        if (round % 5 == 0) text.resize(pick(text.size()));
        Diagnostics diagnostics;
        const auto read = read_photometry(text, "changed.ies", diagnostics);
        CHECK(read.has_value() != diagnostics.any_errors());
        refused += !read;
        if (read) CHECK(std::isfinite(candela(*read, 40.0, 30.0)));
    }
    CHECK(refused > 300);
    CHECK(refused < 1900);
}
