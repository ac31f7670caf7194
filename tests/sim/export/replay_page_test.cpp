// The replay page's document: the trajectory's own numbers, and safe whatever a thing is named.
#include "sim/export/replay_page.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <nlohmann/json.hpp>

#include "model/growth/body.h"

#include "sim/export/packed.h"
#include "sim/export/replay_parts.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/run/forecast.h"
#include "sim/trajectory/run_layout.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;
using nlohmann::json;

namespace {

const char* const kLayout = R"(format = 1
title = "</script><script>alert(1)</script>"
[season]
start = 2027-01-01
months = 1
[tank]
length = "60 cm"
width = "40 cm"
water_depth = "40 cm"
[[lamp]]
name = "<!-- lamp"
position = "30 20 cm"
height = "15 cm"
shape = "disc"
size = "20 cm"
photon_flux = 60
[[rock]]
name = "block"
shape = "box"
min = "10 20 0 cm"
max = "30 35 10 cm"
[[colony]]
name = "<img src=x onerror=alert(1)>"
taxon = "montipora-capricornis"
position = "20 20 15 cm"
diameter = "12 cm"
height = "3 cm"
facing = { azimuth = "90 deg", tilt = "10 deg" }
[[colony]]
name = "below"
taxon = "fungia"
on = "sand"
position = "20 14 cm"
diameter = "6 cm"
)";

RunProvenance facts_of(const LayoutFile& file, int members) {
    RunProvenance facts;
    facts.members = members;
    facts.layout_text = file.text;
    facts.traits_text = file.traits_text;
    return facts;
}

/// A run of the layout above, finished unless `stopped`, with what `add` puts into it.
class Run {
  public:
    explicit Run(const std::function<void(TrajectoryWriter&)>& add = {}, bool finished = true) {
        const LayoutFile file = read_layout_text(kLayout, "replay.toml");
        Forecast forecast(file.layout, {}, run_serially);
        TrajectoryWriter writer(path(), file.layout, forecast.grid(), facts_of(file, 1));
        forecast.run({&writer}, [](double) { return true; });
        if (add) add(writer);
        if (finished) writer.finish();
    }

    std::filesystem::path path() const { return folder_ / "run.h5"; }
    Trajectory open() const { return Trajectory(path()); }
    Trajectory open_part() const { return Trajectory(folder_ / "run.h5.part"); }

  private:
    synthetic::Folder folder_;
};

std::vector<std::uint8_t> bytes_of(const std::string& base64) {
    static const std::string kDigits =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::vector<std::uint8_t> bytes;
    std::uint32_t bits = 0;
    int held = 0;
    for (const char c : base64) {
        if (c == '=') break;
        bits = bits << 6U | static_cast<std::uint32_t>(kDigits.find(c));
        held += 6;
        if (held >= 8) bytes.push_back(static_cast<std::uint8_t>(bits >> (held -= 8)));
    }
    return bytes;
}

template <class T>
std::vector<T> unpacked(const json& array) {
    const auto bytes = bytes_of(array["base64"]);
    std::vector<T> values(bytes.size() / sizeof(T));
    std::memcpy(values.data(), bytes.data(), bytes.size());
    return values;
}

Flag flag_of(FlagKind kind, int member, int month, CulpritKind culprit_kind, int culprit) {
    Flag flag;
    flag.kind = kind;
    flag.member = member;
    flag.month = month;
    flag.day_d = 30.0 * month;
    flag.colony = 1;
    flag.culprit_kind = culprit_kind;
    flag.culprit = culprit;
    flag.share = 0.5;
    return flag;
}

}  // namespace

TEST_CASE("base64 is that of RFC 4648") {
    const auto coded = [](const std::string& text) {
        return base64(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    };
    // Test vectors of RFC 4648, section 10.
    CHECK(coded("").empty());
    CHECK(coded("f") == "Zg==");
    CHECK(coded("fo") == "Zm8=");
    CHECK(coded("foo") == "Zm9v");
    CHECK(coded("foobar") == "Zm9vYmFy");
}

TEST_CASE("quantised numbers are within half a step, and missing ones stay missing") {
    const float none = std::nanf("");
    const json array = packed_in_steps({0.0F, 1.0F, 0.3333F, none, -1.0F, INFINITY}, {6});
    const auto steps = unpacked<std::uint16_t>(array);
    const double step = array["step"];
    CHECK(step * steps[1] == Approx(1.0));
    CHECK(std::abs(step * steps[2] - 0.3333) <= 0.5 * step * 1.001);
    CHECK(steps[0] == 0);
    for (const std::size_t nothing : {3U, 4U, 5U}) CHECK(steps[nothing] == 65535);
    CHECK(unpacked<std::uint16_t>(packed_in_steps({0.0F, 0.0F}, {2})) ==
          std::vector<std::uint16_t>{0, 0});
}

TEST_CASE("a run of ordinary length is shown in full, a very long or large one thinned") {
    CHECK(snapshots_shown(106, 10'000).size() == 106);
    CHECK(snapshots_shown(0, 10'000).empty());
    CHECK(snapshots_shown(1, std::size_t{1} << 40U) == std::vector<int>{0});
    const auto two = snapshots_shown(50, std::size_t{1} << 40U);
    CHECK(two == std::vector<int>{0, 49});
    for (const int snapshots : {2000, 2001, 7307, 10'000'000}) {
        const auto shown = snapshots_shown(snapshots, 100);
        CHECK(shown.size() <= 2000);
        CHECK(shown.size() > 900);
        CHECK(shown.back() == snapshots - 1);
    }
}

TEST_CASE("the replay document has the trajectory's numbers") {
    const Run run;
    const Trajectory trajectory = run.open();
    const json document = json::parse(replay_json(trajectory));
    const auto snapshots = static_cast<std::size_t>(trajectory.snapshots(0));
    REQUIRE(document["days"].size() == snapshots);
    CHECK(document["months"] == 1);
    CHECK(document["complete"] == true);
    CHECK(document["lamps"][0]["shape"] == "disc");
    CHECK(document["rocks"][0]["triangles"]["shape"][0] == 12);
    const auto dli = unpacked<float>(document["figures"]["dli"]);
    const auto diameter = unpacked<float>(document["figures"]["diameter"]);
    const auto shaded_by = unpacked<std::int16_t>(document["shaded_by"]);
    const auto share = unpacked<float>(document["shade_share"]);
    const auto bed = unpacked<std::uint16_t>(document["bed_maps"]["ppfd"]);
    const double bed_step = document["bed_maps"]["ppfd"]["step"];
    for (std::size_t f = 0; f < snapshots; ++f) {
        const auto records = trajectory.colonies_at(0, static_cast<int>(f));
        for (std::size_t i = 0; i < 2; ++i) {
            CHECK(static_cast<double>(dli[2 * f + i]) == records[i].dli_mol_m2_d);
            CHECK(static_cast<double>(diameter[2 * f + i]) == records[i].diameter_m);
        }
        REQUIRE(records[1].shade_by.size() == 1);
        const std::size_t first_rank = (2 * f + 1) * kShadeRanks;
        CHECK(shaded_by[first_rank] == records[1].shade_by[0].colony);
        CHECK(static_cast<double>(share[first_rank]) == records[1].shade_by[0].share);
        CHECK(shaded_by[first_rank + 1] == -1);
        const auto ppfd = trajectory.bed_at(0, static_cast<int>(f)).ppfd_umol_m2_s;
        for (std::size_t cell = 0; cell < ppfd.size(); ++cell)
            CHECK(bed_step * bed[f * ppfd.size() + cell] ==
                  Approx(ppfd[cell]).margin(0.51 * bed_step));
    }
}

TEST_CASE("a colony drawn from the replay document is the model's own body") {
    const Run run;
    const Trajectory trajectory = run.open();
    const json document = json::parse(replay_json(trajectory));
    const auto scaled = [&](const char* name) {
        std::vector<double> values;
        for (const auto steps : unpacked<std::uint16_t>(document[name]))
            values.push_back(steps * document[name]["step"].get<double>());
        return values;
    };
    const auto corner = scaled("corner"), share = scaled("profile_share"), z = scaled("profile_z");
    const auto base = unpacked<float>(document["position"]);
    const auto records = trajectory.colonies_at(0, 0);
    for (std::size_t i = 0; i < 2; ++i) {
        const ColonyBody body(shape_of(trajectory.colonies()[i], records[i]));
        const auto lean = document["colonies"][i]["lean"].get<std::vector<double>>();
        for (int point = 0; point < body.profile().count; ++point)
            for (int k = 0; k < kSegments; ++k) {
                const auto at = i * Profile::kMaxPoints + static_cast<std::size_t>(point);
                const double r = share[at] * corner[i * kSegments + static_cast<std::size_t>(k)];
                const double angle = 2.0 * kPi * k / kSegments;
                const Vec3 own(r * std::cos(angle), r * std::sin(angle), z[at]);
                Vec3 drawn;
                for (int axis = 0; axis < 3; ++axis) {
                    const auto row = static_cast<std::size_t>(3 * axis);
                    drawn[axis] =
                        static_cast<double>(base[3 * i + static_cast<std::size_t>(axis)]) +
                        lean[row] * own.x() + lean[row + 1] * own.y() + lean[row + 2] * own.z();
                }
                const Vec3 expected = body.to_tank_m(body.upright_m(k, body.profile()[point]));
                CHECK((drawn - expected).norm() < 2e-5);
            }
    }
}

TEST_CASE("names in a page are escaped") {
    const Run run;
    const std::string document = replay_json(run.open());
    CHECK(document.find('<') == std::string::npos);
    const json parsed = json::parse(document);
    CHECK(parsed["title"] == "</script><script>alert(1)</script>");
    CHECK(parsed["colonies"][0]["name"] == "<img src=x onerror=alert(1)>");
    const std::string shell = "<title>" + std::string(kTitleMark) + "</title>" +
                              std::string(kRunMark) + "<script>1</script>";
    const std::string page = replay_page(run.open(), shell);
    CHECK(page.find("<script>alert") == std::string::npos);
    CHECK(page.find("<title>&lt;/script&gt;") != std::string::npos);
    CHECK(page.find("<script id=\"run\" type=\"application/json\">{") != std::string::npos);
}

TEST_CASE("a page template with missing or repeated markers is refused") {
    const Run run;
    const std::string title(kTitleMark), mark(kRunMark);
    CHECK_THROWS_AS(replay_page(run.open(), title), std::invalid_argument);
    CHECK_THROWS_AS(replay_page(run.open(), title + mark + mark), std::invalid_argument);
    CHECK_NOTHROW(replay_page(run.open(), mark + title));
}

TEST_CASE("a run that was stopped is shown and marked") {
    const Run run({}, false);
    const json document = json::parse(replay_json(run.open_part()));
    CHECK(document["complete"] == false);
    CHECK(document["days"].size() > 1);
}

TEST_CASE("flags come with their sentence") {
    const Run run([](TrajectoryWriter& writer) {
        writer.add(flag_of(FlagKind::light_short, 0, 1, CulpritKind::colony, 0));
    });
    const json flag = json::parse(replay_json(run.open()))["flags"][0];
    CHECK(flag["flag"] == "light-short");
    CHECK(flag["colony"] == 1);
    CHECK(flag["culprit"] == 0);
    CHECK(flag["months"] == json{1});
    CHECK(flag["text"].get<std::string>().find("takes 50 % of the light of 'below'") !=
          std::string::npos);
}

TEST_CASE("a flag with a culprit that is not in the layout is refused") {
    const auto refused = [](const Flag& flag) {
        const Run run([&](TrajectoryWriter& writer) { writer.add(flag); });
        CHECK_THROWS_WITH(layout_of(run.open()), Catch::Contains("as its cause") &&
                                                     Catch::Contains("not in the trajectory's"));
    };
    refused(flag_of(FlagKind::buried, 0, 1, CulpritKind::pump, 0));
    refused(flag_of(FlagKind::light_short, 0, 1, CulpritKind::self, -1));
    refused(flag_of(FlagKind::light_short, 0, 1, CulpritKind::colony, -1));
    refused(flag_of(FlagKind::stung, 0, 1, CulpritKind::lamp, 0));
}

TEST_CASE("a trajectory with days, colonies or members out of range is refused") {
    const auto opened = [](const Flag& flag) {
        const Run run([&](TrajectoryWriter& writer) { writer.add(flag); });
        return run.open();
    };
    Flag flag = flag_of(FlagKind::too_dim, 0, 1, CulpritKind::self, -1);
    CHECK_NOTHROW(opened(flag));
    flag.colony = 2;
    CHECK_THROWS_WITH(opened(flag), Catch::Contains("out of range"));
    flag.colony = 1;
    flag.day_d = 1e300;
    CHECK_THROWS_WITH(opened(flag), Catch::Contains("out of range"));
    flag.day_d = 1.0;
    CHECK_NOTHROW(opened(flag));
    flag.member = 1;
    CHECK_THROWS_WITH(opened(flag), Catch::Contains("out of range"));
}

TEST_CASE("the page of an ensemble has the central run, the spread and the flag counts") {
    const synthetic::Folder folder;
    const LayoutFile file = read_layout_text(kLayout, "replay.toml");
    constexpr int kMembers = 11;
    {
        Forecast forecast(file.layout, {}, run_serially);
        TrajectoryWriter writer(folder / "run.h5", file.layout, forecast.grid(),
                                facts_of(file, kMembers));
        Snapshot snapshot = forecast.observe(7.0);
        for (int member = 0; member < kMembers; ++member) {
            snapshot.reef.colonies[0].reserve = 0.1 * member;
            writer.take(member, snapshot);
            writer.end_member(member);
        }
        for (const int member : {4, 7, 9})
            writer.add(flag_of(FlagKind::too_dim, member, 20 - member, CulpritKind::self, -1));
        writer.add(flag_of(FlagKind::light_short, 0, 19, CulpritKind::colony, 0));
        writer.add(flag_of(FlagKind::light_short, 2, 4, CulpritKind::colony, 0));
        writer.finish();
    }
    const json document = json::parse(replay_json(Trajectory(folder / "run.h5")));
    CHECK(unpacked<float>(document["figures"]["reserve"])[0] == 0.0F);
    // Of 0, 0.1 … 1 the 10 % and 90 % points are 0.1 and 0.9.
    CHECK(unpacked<float>(document["bands"]["reserve"]["low"])[0] == Approx(0.1F));
    CHECK(unpacked<float>(document["bands"]["reserve"]["high"])[0] == Approx(0.9F));
    // The best estimate speaks first; what only others raised follows.
    CHECK(document["verdict"].get<std::string>().find("In month 19 the plate") == 0);
    REQUIRE(document["flags"].size() == 2);
    CHECK(document["flags"][0]["member"] == 0);
    CHECK(document["flags"][0]["months"] == json{4, 19});
    CHECK(document["flags"][1]["member"] == 4);
    CHECK(document["flags"][1]["months"] == json{11, 13, 16});
}
