// A run that is exported as a layout and continued: the flags of the unbroken run within one step,
// and its sizes within one percent.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "sim/base/pool.h"
#include "sim/export/continued_layout.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/run/calibration.h"
#include "sim/verdict/flag_detector.h"
#include "sim/verdict/run_record.h"

#include "tests/layout_texts.h"
#include "tests/sim/run/recorded_run.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

constexpr std::uint64_t kSeed = 1;

RunOptions options_of(const LayoutFile& file) {
    return {kSeed, 0, calibrate(file.layout).output_scale, false, file.checkpoint};
}

struct Run {
    std::vector<Snapshot> snapshots;
    std::vector<Flag> flags;
};

Run run_of(const LayoutFile& file) {
    Pool pool(2);
    Forecast forecast(file.layout, options_of(file), pool.parallel_for());
    Kept kept;
    const RunRecord record =
        record_run(file.layout, forecast, 0, [](double) { return true; }, {&kept});
    return {kept.snapshots, record.flags};
}

/// The run until a day, and its checkpoint on that day.
LayoutFile continued_on(const LayoutFile& file, double day_d, std::vector<Flag>& flags) {
    Pool pool(2);
    Forecast forecast(file.layout, options_of(file), pool.parallel_for());
    FlagDetector detector(file.layout);
    forecast.run_until(day_d, {&detector}, [](double) { return true; });
    Checkpoint checkpoint = checkpoint_of(forecast.reef(), file.layout);
    checkpoint.seed = kSeed;
    detector.store(checkpoint);
    flags = detector.flags();
    LayoutOptions options;
    options.traits_text = file.traits_text;
    const RunProvenance provenance{kSeed, 1, "", "", file.text, file.traits_text};
    return read_layout_text(continued_layout_text(provenance, checkpoint), "then.toml", options);
}

void check_sizes(const Snapshot& whole, const Snapshot& rest) {
    REQUIRE(whole.day_d == rest.day_d);
    for (std::size_t i = 0; i < whole.reef.colonies.size(); ++i) {
        const ColonyState &a = whole.reef.colonies[i], &b = rest.reef.colonies[i];
        INFO("day " << whole.day_d << ", colony " << i);
        CHECK(a.present == b.present);
        CHECK(mean_diameter_m(b.radius_m) == Approx(mean_diameter_m(a.radius_m)).epsilon(0.01));
        CHECK(b.height_m == Approx(a.height_m).epsilon(0.01));
        CHECK(b.live_fraction == Approx(a.live_fraction).margin(0.01));
    }
}

/// Every flag of the whole run is raised before or after, and none else. Whether a coral that walks
/// comes to touch the glass depends on every step of its path, which light turns: that note is left
/// out.
void check_flags(const Layout& layout, Run whole, const std::vector<Flag>& before, Run rest) {
    const auto is_walkers_note = [&](const Flag& flag) {
        const Colony& colony = layout.colonies[static_cast<std::size_t>(flag.colony)];
        return flag.kind == FlagKind::outgrown && layout.taxon_of(colony).mobility_m_d > 0.0;
    };
    std::erase_if(whole.flags, is_walkers_note);
    std::erase_if(rest.flags, is_walkers_note);
    std::vector<Flag> both = before;
    both.insert(both.end(), rest.flags.begin(), rest.flags.end());
    const auto listed = [](const std::vector<Flag>& flags) {
        std::string text;
        for (const Flag& flag : flags)
            text += fmt::format("{} of colony {} on day {:g}; ", to_string(flag.kind), flag.colony,
                                flag.day_d);
        return text;
    };
    INFO("whole: " << listed(whole.flags) << "\nbefore: " << listed(before)
                   << "\nrest: " << listed(rest.flags));
    CHECK(both.size() == whole.flags.size());
    for (const Flag& flag : whole.flags) {
        INFO(to_string(flag.kind) << " of colony " << flag.colony << " on day " << flag.day_d);
        const auto same = std::find_if(both.begin(), both.end(), [&](const Flag& other) {
            return other.kind == flag.kind && other.colony == flag.colony;
        });
        REQUIRE(same != both.end());
        CHECK(std::abs(same->day_d - flag.day_d) <= layout.season.step_d);
        CHECK(same->culprit == flag.culprit);
    }
}

void check_continues(const LayoutFile& file, double day_d) {
    INFO("continued on day " << day_d);
    std::vector<Flag> before;
    const LayoutFile then = continued_on(file, day_d, before);
    REQUIRE(then.checkpoint);
    CHECK(then.checkpoint->day_d == day_d);
    CHECK(then.checkpoint->seed == kSeed);
    const Run whole = run_of(file), rest = run_of(then);
    CHECK(rest.snapshots.front().day_d == day_d);
    check_sizes(whole.snapshots.back(), rest.snapshots.back());
    check_flags(file.layout, whole, before, rest);
}

/// Walkers, neighbours that sting, a coral loose on a slope, and many actions.
const std::string kBusyTank = kTankUnderLamp + R"(output = 0.15
[water]
yellowing = 0.1
turbidity = { mass = "0.2 mg/L" }
drift = { yellowing_per_week = 0.02, reset_every = "4 weeks" }
seasonal = { swing = 1.0, warmest_month = 8 }
[[lamp]]
name = "right"
position = "90 30 cm"
height = "20 cm"
photon_flux = 450
output = 0.15
[[pump]]
name = "jet"
position = "3 30 20 cm"
toward = "110 30 5 cm"
nozzle = "25 mm"
flow = "3000 L/h"
[[rock]]
name = "ledge"
shape = "slab"
centre = "60 42 18 cm"
size = "60 20 4 cm"
tilt = "35 deg"
[[inhabitant]]
name = "goby"
does = "stir"
count = 2
events_per_day = 60
mass = "1.5 g"
lift = "10 cm"
hours = ["08:00", "20:00"]
around = "40 25 cm"
radius = "30 cm"
[[colony]]
name = "disc"
taxon = "diaseris-distorta"
on = "sand"
position = "40 20 cm"
diameter = "3 cm"
settling = 0
[[colony]]
name = "button"
taxon = "heteropsammia-cochlea"
on = "sand"
position = "60 15 cm"
diameter = "2 cm"
[[colony]]
name = "plate"
taxon = "montipora-capricornis"
position = "45 25 16 cm"
diameter = "14 cm"
settling = 0
[[colony]]
name = "crystal"
taxon = "galaxea-fascicularis"
on = "sand"
position = "80 20 cm"
diameter = "6 cm"
[[colony]]
name = "brain"
taxon = "trachyphyllia-geoffroyi"
on = "sand"
position = "89 20 cm"
diameter = "8 cm"
[[colony]]
name = "loose"
taxon = "trachyphyllia-geoffroyi"
on = "ledge"
position = "60 42 cm"
diameter = "5 cm"
attached = false
[[colony]]
name = "late"
taxon = "euphyllia"
on = "sand"
position = "100 45 cm"
diameter = "5 cm"
[[colony]]
name = "gone"
taxon = "caulastraea-furcata"
on = "sand"
position = "20 45 cm"
diameter = "5 cm"
[[action]]
on = 2027-01-20
do = "set"
pump = "jet"
flow = "5000 L/h"
[[action]]
on = 2027-01-26
do = "trim"
colony = "plate"
to = "12 cm"
[[action]]
on = 2027-01-27
do = "set"
lamp = "left"
height = "24 cm"
[[action]]
on = 2027-01-28
do = "move"
colony = "brain"
to = "90 22 0 cm"
[[action]]
on = 2027-01-29
do = "add"
colony = "late"
[[action]]
on = 2027-01-30
do = "remove"
colony = "gone"
[[action]]
on = 2027-01-30
do = "set"
water = { temperature = 27, yellowing = 0.05 }
[[action]]
on = 2027-01-15
do = "feed"
food = 2.0
for = "1 d"
every = "5 d"
[[action]]
on = 2027-02-12
do = "trim"
colony = "plate"
to = "11 cm"
[[action]]
on = 2027-02-12
do = "set"
pump = "jet"
toward = "110 20 30 cm"
[[action]]
on = 2027-02-26
do = "set"
lamp = "right"
output = 0.25
height = "30 cm"
[[action]]
on = 2027-03-01
do = "clean"
)";

LayoutFile busy_tank() {
    std::string text = kBusyTank;
    const std::string start = "start = 2027-01-01\n";
    return read_layout_text(text.insert(text.find(start) + start.size(), "months = 4\n"),
                            "busy.toml");
}

}  // namespace

TEST_CASE("a busy run continues from its exported layout", "[continuation]") {
    // Trimming and turning the pump are planned for day 42 itself; by 63 everything is done.
    for (const double day_d : {14.0, 42.0, 63.0}) check_continues(busy_tank(), day_d);
}

TEST_CASE("twelve months and twelve months are twenty-four months", "[continuation]") {
    check_continues(read_layout(BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml"), 364.0);
}

TEST_CASE("a run continued within 30 days of a flag raises it", "[continuation]") {
    // The month's mean of the demonstration falls below zero on day 558.
    check_continues(read_layout(BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml"), 553.0);
}

TEST_CASE("observing twice gives the same snapshot") {
    const LayoutFile file = busy_tank();
    Forecast forecast(file.layout, options_of(file), run_serially);
    forecast.run_until(21.0, {}, [](double) { return true; });
    const Snapshot one = forecast.observe(7.0);
    forecast.light();  // in between, of another starting point
    const Snapshot two = forecast.observe(7.0);
    CHECK(one.bed.ppfd_umol_m2_s == two.bed.ppfd_umol_m2_s);
    CHECK(one.bed.shear_stress_Pa == two.bed.shear_stress_Pa);
    for (std::size_t i = 0; i < one.colonies.size(); ++i) {
        CHECK(one.colonies[i].net_carbon == two.colonies[i].net_carbon);
        CHECK(one.colonies[i].need_dli_mol_m2_d == two.colonies[i].need_dli_mol_m2_d);
        CHECK(one.colonies[i].deposition_kg_m2_d == two.colonies[i].deposition_kg_m2_d);
    }
    CHECK(one.reef.light.bed_light == two.reef.light.bed_light);
}
