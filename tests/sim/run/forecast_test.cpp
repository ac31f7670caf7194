// A run as a whole: the same bits at any thread count, hardly moved by the step, and no layout too
// empty or too full for it.
#include "sim/run/forecast.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <optional>

#include "sim/base/pool.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/verdict/flag_detector.h"

#include "tests/layouts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

const std::string kDemo = BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml";

/// Every figure of a run, bit by bit.
class Recorder final : public SnapshotSink {
  public:
    void take(const Snapshot& snapshot) override {
        note(snapshot.day_d);
        for (const double ppfd : snapshot.bed.ppfd_umol_m2_s) note(ppfd);
        for (std::size_t i = 0; i < snapshot.colonies.size(); ++i) {
            const ColonyObservation& f = snapshot.colonies[i];
            const ColonyState& s = snapshot.reef.colonies[i];
            for (const double v :
                 {f.ppfd_mean_umol_m2_s, f.dli_mol_m2_d, f.need_dli_mol_m2_d, f.net_carbon,
                  f.net_others_at_baseline, f.deposition_kg_m2_d, s.height_m, s.live_fraction,
                  s.reserve, s.sand_kg_m2, s.saturation_umol_m2_s})
                note(v);
            for (const double r : s.radius_m) note(r);
            for (const double x : s.position_m) note(x);
            for (const ShadeShare& share : f.shade_by) note(share.share + share.colony);
        }
    }
    std::vector<std::uint64_t> bits;

  private:
    void note(double value) {
        std::uint64_t word = 0;
        std::memcpy(&word, &value, sizeof(word));
        bits.push_back(word);
    }
};

std::vector<std::uint64_t> bits_of(const Layout& layout, int threads) {
    Pool pool(threads);
    Forecast forecast(layout, {}, pool.parallel_for());
    Recorder recorder;
    forecast.run({&recorder}, [](double) { return true; });
    return recorder.bits;
}

std::optional<double> first_light_short_day(Layout layout, double step_d) {
    layout.season.step_d = step_d;
    Forecast forecast(layout, {}, run_serially);
    FlagDetector detector(layout);
    forecast.run({&detector}, [](double) { return true; });
    for (const Flag& flag : detector.flags())
        if (flag.kind == FlagKind::light_short) return flag.day_d;
    return std::nullopt;
}

struct FrameCounter final : SnapshotSink {
    int count = 0;
    double last_day_d = -1.0;
    void take(const Snapshot& snapshot) override {
        ++count;
        last_day_d = snapshot.day_d;
    }
};

FrameCounter run_through(const Layout& layout) {
    Forecast forecast(layout, {}, run_serially);
    FrameCounter snapshots;
    FlagDetector detector(layout);
    CHECK(forecast.run({&snapshots, &detector}, [](double) { return true; }));
    return snapshots;
}

}  // namespace

TEST_CASE("a run has the same bits at any thread count and on repeat", "[threads]") {
    Layout layout = read_layout(kDemo).layout;
    layout.season.months = 4;
    const auto reference = bits_of(layout, 1);
    REQUIRE(reference.size() > 10000);
    for (const int threads : {1, 2, 3, 8}) CHECK(bits_of(layout, threads) == reference);
}

TEST_CASE("another seed moves the sand and nothing that does not depend on it") {
    Layout layout = read_layout(kDemo).layout;
    layout.season.months = 1;
    Forecast one(layout, {1, 0, 1.0}, run_serially), two(layout, {2, 0, 1.0}, run_serially);
    const Snapshot a = one.observe(7.0), b = two.observe(7.0);
    CHECK(a.bed.ppfd_umol_m2_s == b.bed.ppfd_umol_m2_s);
    double moved = 0.0;
    for (std::size_t i = 0; i < a.colonies.size(); ++i)
        moved += std::abs(a.colonies[i].deposition_kg_m2_d - b.colonies[i].deposition_kg_m2_d);
    CHECK(moved > 0.0);
}

TEST_CASE("halving the step moves the flagged month by at most half a month") {
    const Layout layout = read_layout(kDemo).layout;
    const auto weekly = first_light_short_day(layout, 7.0);
    const auto halved = first_light_short_day(layout, 3.5);
    REQUIRE(weekly);
    REQUIRE(halved);
    INFO("weekly " << *weekly << ", halved " << *halved);
    CHECK(std::abs(*weekly - *halved) <= 0.5 * kDaysPerMonth);
}

TEST_CASE("a run ends on its horizon whatever the step") {
    Layout layout = black_tank();
    layout.season.months = 2;
    for (const double step_d : {0.25, 1.0, 7.0, 14.0, 30.4375, 31.0}) {
        layout.season.step_d = step_d;
        CHECK(run_through(layout).last_day_d == Approx(2 * kDaysPerMonth).epsilon(1e-12));
    }
}

TEST_CASE("an empty tank, one colony, no lamp and a thousand colonies run") {
    Layout layout = black_tank();
    layout.season.months = 1;
    SECTION("nothing at all") { CHECK(run_through(layout).count == 6); }
    SECTION("one colony and no lamp") {
        layout.taxa = {plain_coral(Form::massive, 100.0)};
        layout.colonies = {colony_at("only", 0, Vec3(1.0, 1.0, 0.0), 0.05, 0.03)};
        CHECK(run_through(layout).count == 6);
    }
    SECTION("lamps and one colony") {
        layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.7), LampShape::rectangle, 0.2, 200.0)};
        layout.taxa = {plain_coral(Form::branching, 100.0)};
        layout.colonies = {colony_at("only", 0, Vec3(1.0, 1.0, 0.0), 0.05, 0.03)};
        CHECK(run_through(layout).count == 6);
    }
    SECTION("a thousand colonies") {
        layout.lamps = {lamp_at(Vec3(1.0, 1.0, 0.7), LampShape::rectangle, 0.2, 200.0)};
        Taxon taxon = plain_coral(Form::massive, 100.0);
        taxon.extension_mm_yr = {10.0, 5.0, 20.0};
        layout.taxa = {taxon};
        layout.season.step_d = 30.0;
        for (int i = 0; i < 1000; ++i)
            layout.colonies.push_back(
                colony_at(std::to_string(i).c_str(), 0,
                          Vec3(0.05 + 0.06 * (i % 32), 0.05 + 0.06 * (i / 32), 0.0), 0.02, 0.01));
        CHECK(run_through(layout).count == 3);
    }
}

TEST_CASE("a run stops after a whole frame when asked to") {
    Layout layout = black_tank();
    Forecast forecast(layout, {}, run_serially);
    FrameCounter snapshots;
    CHECK_FALSE(forecast.run({&snapshots}, [](double done) { return done < 0.5; }));
    CHECK(snapshots.count > 10);
    CHECK(snapshots.last_day_d < 0.52 * forecast.horizon_d());
}
