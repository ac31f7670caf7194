// The drawing of a month: well formed, complete, and safe whatever a thing is named.
#include "sim/export/picture.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <unistd.h>

#include "sim/export/silhouette.h"
#include "sim/export/svg.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/run/forecast.h"
#include "sim/trajectory/trajectory_writer.h"

using namespace bedshade;

namespace {

namespace fs = std::filesystem;

const char* const kLayout = R"(format = 1
title = "Bold & <script>"
[season]
start = 2027-01-01
months = 2
[tank]
length = "60 cm"
width = "40 cm"
water_depth = "40 cm"
[[lamp]]
name = "lamp"
position = "30 20 cm"
height = "15 cm"
shape = "rectangle"
size = "20 20 cm"
photon_flux = 60
[[rock]]
name = "block"
shape = "box"
min = "10 20 0 cm"
max = "30 35 10 cm"
[[colony]]
name = "<b>\"x\"</b>"
taxon = "montipora-capricornis"
position = "20 28 10 cm"
diameter = "6 cm"
height = "3 cm"
)";

/// Hands frames on with every coral of another radius, where one is given.
class Blown final : public SnapshotSink {
  public:
    Blown(SnapshotSink& to, double radius_m) : to_(to), radius_m_(radius_m) {}
    void take(const Snapshot& snapshot) override {
        Snapshot blown = snapshot;
        if (radius_m_ > 0.0)
            for (ColonyState& state : blown.reef.colonies) state.radius_m.fill(radius_m_);
        to_.take(blown);
    }

  private:
    SnapshotSink& to_;
    double radius_m_;
};

/// A short run of a layout with awkward names, drawn.
class SampledValue {
  public:
    explicit SampledValue(double radius_m = 0.0)
        : path_(fs::temp_directory_path() /
                ("bedshade_picture_" + std::to_string(getpid()) + ".h5")) {
        const LayoutFile file = read_layout_text(kLayout, "picture.toml");
        Forecast forecast(file.layout, {}, run_serially);
        RunProvenance facts;
        facts.layout_text = file.text;
        facts.traits_text = file.traits_text;
        TrajectoryWriter writer(path_, file.layout, forecast.grid(), facts);
        Blown sink(writer, radius_m);
        forecast.run({&sink}, [](double) { return true; });
        writer.finish();
    }
    ~SampledValue() { fs::remove(path_); }
    SampledValue(const SampledValue&) = delete;
    SampledValue& operator=(const SampledValue&) = delete;

    std::string svg(int month) const { return picture_svg(Trajectory(path_), month); }

  private:
    fs::path path_;
};

/// Whether every tag is closed in order and no quote or angle is left loose.
bool well_formed(const std::string& xml) {
    std::vector<std::string> open;
    for (std::size_t at = xml.find('<'); at != std::string::npos; at = xml.find('<', at + 1)) {
        const std::size_t end = xml.find('>', at);
        if (end == std::string::npos) return false;
        const std::string tag = xml.substr(at + 1, end - at - 1);
        if (tag[0] == '?' || tag.back() == '/') continue;
        const std::string name = tag.substr(0, tag.find(' '));
        if (tag[0] != '/')
            open.push_back(name);
        else if (open.empty() || "/" + open.back() != name)
            return false;
        else
            open.pop_back();
    }
    return open.empty();
}

}  // namespace

TEST_CASE("a month is drawn from above and from the front") {
    const SampledValue drawn;
    const std::string svg = drawn.svg(2);
    CHECK(well_formed(svg));
    CHECK(svg.find("From above") != std::string::npos);
    CHECK(svg.find("From the front") != std::string::npos);
    CHECK(svg.find("month 2") != std::string::npos);
    CHECK(svg != drawn.svg(0));
}

TEST_CASE("names in a drawing are escaped") {
    const std::string svg = SampledValue().svg(0);
    CHECK(svg.find("<script>") == std::string::npos);
    CHECK(svg.find("<b>") == std::string::npos);
    CHECK(svg.find("Bold &amp; &lt;script&gt;") != std::string::npos);
    CHECK(xml_text("a\x1b[31m") == "a\\x1B[31m");
}

TEST_CASE("a coral of an impossible size is left out of a drawing") {
    const std::string alive = "#c8553d";
    CHECK(SampledValue().svg(0).find(alive) != std::string::npos);
    CHECK(SampledValue(1e6).svg(0).find(alive) == std::string::npos);
}

TEST_CASE("a month the run does not reach is refused") {
    const SampledValue drawn;
    CHECK_THROWS_AS(drawn.svg(3), std::out_of_range);
    CHECK_THROWS_AS(drawn.svg(-1), std::out_of_range);
}

TEST_CASE("the silhouette of a box is its face") {
    TriangleMesh mesh;
    mesh.vertices_m = {{0, 0, 0}, {2, 0, 0}, {2, 0, 1}, {0, 0, 1}};
    mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
    for (const Vec2& p : silhouette(mesh, 0, 2))
        CHECK((std::abs(p.y()) < 1e-6 || std::abs(p.y() - 1.0) < 1e-6));
    CHECK(silhouette({}, 0, 2).empty());
}
