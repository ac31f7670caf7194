// Exports hold the trajectory's numbers, in files that appear whole or not at all.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <cstring>
#include <fmt/format.h>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "sim/base/atomic_file.h"
#include "sim/base/folder_output.h"
#include "sim/export/export_csv.h"
#include "sim/export/export_gltf.h"
#include "sim/export/export_vtk.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/run/forecast.h"
#include "sim/trajectory/run_layout.h"
#include "sim/trajectory/trajectory_writer.h"

#include "tests/sim/trajectory/synthetic_run.h"

using namespace bedshade;

namespace {

const char* const kLayout = R"(format = 1
title = "export"
[season]
start = 2027-01-01
months = 1
[tank]
length = "60 cm"
width = "40 cm"
water_depth = "40 cm"
[[lamp]]
name = "lamp"
position = "30 20 cm"
height = "15 cm"
photon_flux = 60
[[rock]]
name = "block"
shape = "box"
min = "40 20 0 cm"
max = "50 35 10 cm"
[[colony]]
name = "a \"quoted\", name"
taxon = "montipora-capricornis"
position = "20 20 15 cm"
diameter = "12 cm"
height = "3 cm"
[[colony]]
name = "below"
taxon = "fungia"
on = "sand"
position = "20 14 cm"
diameter = "6 cm"
)";

class Run {
  public:
    Run() {
        const LayoutFile file = read_layout_text(kLayout, "export.toml");
        Forecast forecast(file.layout, {}, run_serially);
        RunProvenance facts;
        facts.layout_text = file.text;
        facts.traits_text = file.traits_text;
        TrajectoryWriter writer(folder_ / "run.h5", file.layout, forecast.grid(), facts);
        forecast.run({&writer}, [](double) { return true; });
        writer.finish();
    }
    std::filesystem::path path() const { return folder_ / "run.h5"; }
    Trajectory open() const { return Trajectory(path()); }

  private:
    synthetic::Folder folder_;
};

std::map<std::string, std::string> collected(const std::function<void(const ExportSink&)>& act) {
    std::map<std::string, std::string> files;
    act([&](const std::string& name, const std::string& bytes) { files[name] = bytes; });
    return files;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

}  // namespace

TEST_CASE("tables have every snapshot and colony, and texts are quoted") {
    const Run run;
    const Trajectory trajectory = run.open();
    auto files = collected([&](const ExportSink& sink) { export_csv(trajectory, sink); });
    CHECK(files.size() == 5);
    const auto lines = lines_of(files["colonies.csv"]);
    REQUIRE(lines.size() == 1 + 2 * static_cast<std::size_t>(trajectory.snapshots(0)));
    CHECK(lines[0].find(",sand_load_kg_m-2,") != std::string::npos);
    CHECK(lines[1].find(",\"a \"\"quoted\"\", name\",") != std::string::npos);
    // The last but two of the values is sand_load, then flow_speed and shade_by_other.
    const auto record = trajectory.colonies_at(0, 1)[1];
    const std::string& row = lines[4];
    CHECK(std::stod(row.substr(row.rfind(',') + 1)) == record.shade_by_other);
    std::istringstream fields(row);
    std::vector<std::string> values;
    for (std::string field; std::getline(fields, field, ',');) values.push_back(field);
    CHECK(values[3] == "\"below\"");
    CHECK(std::stof(values[9]) == static_cast<float>(record.diameter_m));
    CHECK(std::stof(values[13]) == static_cast<float>(record.dli_mol_m2_d));
    CHECK(lines_of(files["bed.csv"]).size() == 1 + 2 * trajectory.bed_grid().size());
    CHECK(lines_of(files["shade.csv"])[1].find("\"below\",\"a \"\"quoted\"\", name\",") !=
          std::string::npos);
}

TEST_CASE("a month as glTF is one whole binary file with every mesh in its bounds") {
    const Run run;
    const Trajectory trajectory = run.open();
    const std::string glb = month_glb(trajectory, layout_of(trajectory), 1);
    std::uint32_t header[5];
    std::memcpy(header, glb.data(), sizeof header);
    CHECK(glb.substr(0, 4) == "glTF");
    CHECK(header[1] == 2);
    CHECK(header[2] == glb.size());
    const auto document = nlohmann::json::parse(glb.substr(20, header[3]));
    CHECK(document["nodes"].size() == 5);  // tank, bed, rock, two corals
    CHECK(document["nodes"][3]["name"] == "a \"quoted\", name");
    const auto record = trajectory.colonies_at(0, snapshot_at_month(trajectory, 1))[1];
    CHECK(document["nodes"][4]["extras"]["dli [mol m-2 d-1]"] == record.dli_mol_m2_d);
    for (const auto& view : document["bufferViews"])
        CHECK(view["byteOffset"].get<std::size_t>() + view["byteLength"].get<std::size_t>() <=
              document["buffers"][0]["byteLength"]);
    CHECK_THROWS_AS(month_glb(trajectory, layout_of(trajectory), 2), std::out_of_range);
}

TEST_CASE("a month for VTK is listed with its day") {
    const Run run;
    const Trajectory trajectory = run.open();
    auto files = collected([&](const ExportSink& sink) { export_vtk(trajectory, {0, 1}, sink); });
    CHECK(files.size() == 5);
    CHECK(files["run.pvd"].find("<DataSet timestep=\"0\" part=\"0\" file=\"corals_00.vtp\"/>") !=
          std::string::npos);
    CHECK(files["corals_01.vtp"].find("Name=\"reserve [1]\"") != std::string::npos);
}

TEST_CASE("VTK reads what is exported for it") {
    if (std::system("/usr/bin/python3 -c 'import vtk, h5py' 2>/dev/null") != 0) {
        WARN("skipped: Debian's python3-vtk9 is not here");
        return;
    }
    const Run run;
    const Trajectory trajectory = run.open();
    const synthetic::Folder folder;
    FolderOutput out(folder / "vtk");
    export_vtk(trajectory, {1},
               [&](const std::string& name, const std::string& bytes) { out.add(name, bytes); });
    out.finish();
    const std::string line = fmt::format(
        "/usr/bin/python3 {}/tests/sim/export/read_vtk.py {} {} 1 {}", BEDSHADE_SOURCE_DIR,
        run.path().string(), (folder / "vtk").string(), snapshot_at_month(trajectory, 1));
    CHECK(std::system(line.c_str()) == 0);
}

TEST_CASE("a folder appears whole or not at all") {
    const synthetic::Folder folder;
    const auto out = folder / "out";
    {
        FolderOutput stopped(out);
        stopped.add("a.txt", "a");
        CHECK_THROWS_WITH(FolderOutput(out),
                          Catch::Contains("out.part' is left from an interrupted export"));
    }
    CHECK(std::filesystem::is_empty(folder.path()));
    FolderOutput whole(out / "");
    whole.add("a.txt", "a");
    CHECK_FALSE(std::filesystem::exists(out));
    whole.finish();
    CHECK(synthetic::bytes_of(out / "a.txt") == "a");
    CHECK_THROWS_WITH(FolderOutput(out), Catch::Contains("exists already; name a new folder"));
    CHECK_THROWS_WITH(FolderOutput(folder / "no" / "such"), Catch::Contains("there is no folder"));
}
