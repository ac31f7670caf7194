// A season that is broken off, written down as a layout and gone on with is the season that was
// never broken off, to the last bit.
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

/// Numbers one after the other, as short as reads back to the same bits.
class Numbers {
  public:
    void add(double value) { text_ += fmt::format("{} ", value); }
    void add(const Vec3& v) {
        for (int axis = 0; axis < 3; ++axis) add(v[axis]);
    }
    template <class Values>
    void all(const Values& values) {
        for (const double value : values) add(value);
    }
    std::string text() const { return text_; }

  private:
    std::string text_;
};

void add_state(const ColonyState& state, Numbers& to) {
    to.add(state.present ? 1.0 : 0.0), to.add(static_cast<double>(state.stage));
    to.add(state.position_m), to.all(state.radius_m), to.add(state.height_m);
    to.add(state.live_fraction), to.add(state.saturation_umol_m2_s), to.add(state.reserve);
    to.add(state.sand_kg_m2), to.add(state.sand_transmittance), to.add(state.sand_over_d);
    to.add(state.settled_at_d);
    to.all(std::array{state.lost.to_darkness, state.lost.to_sand, state.lost.to_stings,
                      state.lost.to_overgrowth, state.lost.to_infauna});
    to.add(state.touching.glass), to.add(state.touching.surface), to.add(state.touching.size_limit);
}

void add_shares(const std::vector<ShadeShare>& shares, Numbers& to) {
    for (const ShadeShare& share : shares) to.add(share.colony), to.add(share.share);
}

void add_finding(const ColonyObservation& found, Numbers& to) {
    to.all(std::array{found.ppfd_mean_umol_m2_s, found.dli_mol_m2_d, found.need_dli_mol_m2_d,
                      found.need_ppfd_umol_m2_s, found.net_carbon, found.net_others_at_baseline,
                      found.net_uninhibited, found.flow_speed_m_s, found.deposition_kg_m2_d});
    add_shares(found.shade_by, to), add_shares(found.shade_since_baseline, to);
    for (const SandShare& sand : found.sand_by) to.add(sand.source), to.add(sand.share);
    to.add(found.stung_by), to.add(found.by_chemistry), to.add(found.overgrown_by);
    to.add(found.irritated_by.inhabitant), to.add(found.irritated_by.speed_mm_d);
}

/// Everything a frame holds.
std::string told(const Snapshot& snapshot) {
    Numbers numbers;
    numbers.add(snapshot.day_d), numbers.add(snapshot.step_d);
    for (const ColonyState& state : snapshot.reef.colonies) add_state(state, numbers);
    for (const ColonyObservation& found : snapshot.colonies) add_finding(found, numbers);
    numbers.all(snapshot.bed.ppfd_umol_m2_s), numbers.all(snapshot.bed.dli_mol_m2_d);
    numbers.all(snapshot.bed.shear_stress_Pa), numbers.all(snapshot.bed.deposition_kg_m2_d);
    numbers.all(snapshot.bed.net_change_kg_m2_d);
    for (const AppliedAction& done : snapshot.reef.applied_actions)
        numbers.add(static_cast<double>(done.kind)), numbers.add(done.action),
            numbers.add(done.colony), numbers.add(done.after_m), numbers.add(done.to_m);
    for (const Fall& fall : snapshot.reef.falls)
        numbers.add(fall.colony), numbers.add(fall.from_m), numbers.add(fall.to_m),
            numbers.add(fall.onto), numbers.add(fall.gust_m_s), numbers.add(fall.holds_m_s);
    return numbers.text();
}

std::string told(const Flag& flag) {
    std::string text =
        fmt::format("{} {} {} {} {} {} {}", to_string(flag.kind), flag.colony, flag.month,
                    flag.day_d, to_string(flag.culprit_kind), flag.culprit, flag.share);
    for (const auto& [name, value] : flag.detail) text += fmt::format(" {}={}", name, value);
    return text;
}

struct Season {
    std::vector<std::string> snapshots;
    std::vector<double> days_d;
    std::vector<std::string> flags, events;
    std::vector<double> event_days_d;
};

Season season_of(const LayoutFile& file) {
    const Layout& layout = file.layout;
    Pool pool(2);
    Forecast forecast(layout, {kSeed, 0, calibrate(layout).output_scale}, pool.parallel_for());
    Kept kept;
    const RunRecord record = record_run(layout, forecast, 0, [](double) { return true; }, {&kept});
    Season season;
    for (const Snapshot& snapshot : kept.snapshots) {
        season.snapshots.push_back(told(snapshot));
        season.days_d.push_back(snapshot.day_d);
    }
    for (const Flag& flag : record.flags) season.flags.push_back(told(flag));
    for (const EventRecord& event : record.events) {
        season.events.push_back(fmt::format("{} {} {}", event.day_d, event.kind, event.text));
        season.event_days_d.push_back(event.day_d);
    }
    return season;
}

/// What is known on the morning of a day, with the flags there were by then.
SeasonSoFar broken_off(const LayoutFile& file, double day_d, std::size_t& flags) {
    const Layout& layout = file.layout;
    Forecast forecast(layout, {kSeed, 0, calibrate(layout).output_scale}, run_serially);
    FlagDetector detector(layout);
    forecast.run_until(day_d, {&detector}, [](double) { return true; });
    SeasonSoFar so_far = forecast.so_far();
    detector.fill(so_far);
    flags = detector.flags().size();
    return so_far;
}

LayoutFile written(const LayoutFile& file, const SeasonSoFar& so_far) {
    LayoutOptions options;
    options.traits_text = file.traits_text;
    const RunProvenance facts{kSeed, 1, "", "", file.text, file.traits_text};
    return read_layout_text(continued_layout_text(facts, so_far), "then.toml", options);
}

/// The part of a season from its frame of that day on is the other season, whole.
void check_same_from(double day_d, const Season& whole, const Season& rest, std::size_t flags) {
    const auto at = std::find(whole.days_d.begin(), whole.days_d.end(), day_d);
    REQUIRE(at != whole.days_d.end());
    const auto first = at - whole.days_d.begin();
    REQUIRE(rest.snapshots.size() == whole.snapshots.size() - static_cast<std::size_t>(first));
    for (std::size_t k = 0; k < rest.snapshots.size(); ++k) {
        INFO("day " << rest.days_d[k]);
        REQUIRE((rest.snapshots[k] == whole.snapshots[static_cast<std::size_t>(first) + k]));
    }
    const auto later =
        std::lower_bound(whole.event_days_d.begin(), whole.event_days_d.end(), day_d);
    const auto events = later - whole.event_days_d.begin();
    CHECK(rest.events == std::vector(whole.events.begin() + events, whole.events.end()));
    CHECK(rest.flags.size() + flags == whole.flags.size());
    for (const std::string& flag : rest.flags)
        CHECK(std::count(whole.flags.begin(), whole.flags.end(), flag) == 1);
}

void check_continues(const LayoutFile& file, double day_d) {
    std::size_t flags = 0;
    const SeasonSoFar so_far = broken_off(file, day_d, flags);
    const LayoutFile then = written(file, so_far);
    CHECK(then.layout.season.from_d == day_d);
    check_same_from(day_d, season_of(file), season_of(then), flags);
    // Broken off again, from the text that the run itself would keep.
    const LayoutFile kept = written(then, so_far);
    CHECK((kept.text == then.text));
}

/// Walkers, neighbours that sting, a coral loose on a slope, and a keeper who never rests.
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

TEST_CASE("a busy season goes on from its layout of a day to the same bits", "[going_on]") {
    // In the first week a coral falls; trimming and turning the pump are planned for day 42 itself;
    // by 63 everything is done.
    for (const double day_d : {7.0, 42.0, 63.0}) {
        INFO("from day " << day_d);
        check_continues(busy_tank(), day_d);
    }
}

TEST_CASE("a coral that fell onto one taken out of the layout since fell onto nobody",
          "[going_on]") {
    std::size_t flags = 0;
    SeasonSoFar so_far = broken_off(busy_tank(), 7.0, flags);
    constexpr std::size_t kOnto = 7;
    int falls = 0;
    for (ColonySoFar& colony : so_far.colonies)
        for (FallFigures& fall : colony.memory->falls) {
            fall[kOnto] = 50000.0;
            ++falls;
        }
    REQUIRE(falls > 0);
    const LayoutFile then = written(busy_tank(), so_far);
    const Snapshot snapshot = Forecast(then.layout, {kSeed}, run_serially).observe(0.0);
    REQUIRE(snapshot.reef.falls.size() == static_cast<std::size_t>(falls));
    for (const Fall& fall : snapshot.reef.falls) CHECK(fall.onto == -1);
}

TEST_CASE("the demonstration goes on from just before its plate is seen to starve the bed",
          "[going_on]") {
    // By its seed the month's mean falls below nothing on day 558, which the look of 560 finds.
    check_continues(read_layout(BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml"), 560.0);
}
