#include "tools/bedshade/light_rows.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/input/text/units.h"

namespace bedshade {
namespace {

/// "60,30,0": centimetres.
Vec3 point_of(const std::string& text) {
    std::string spaced = text + " cm";
    std::replace(spaced.begin(), spaced.end(), ',', ' ');
    const auto read = read_quantities(spaced, kLength);
    const auto* metres = std::get_if<std::vector<double>>(&read);
    if (metres == nullptr || metres->size() != 3)
        throw UsageError(fmt::format("--at is '{}'; needed: three numbers in cm, such as 60,30,0",
                                     escape_control(text)));
    return {(*metres)[0], (*metres)[1], (*metres)[2]};
}

std::string csv_name(const std::string& name) {
    return name.find_first_of(",\"") == std::string::npos ? csv_cell(name) : csv_quoted(name);
}

std::string csv_number(double value) {
    return std::isnan(value) ? "" : fmt::format("{:.9g}", value);
}

nlohmann::ordered_json row_json(const LightRow& r) {
    nlohmann::ordered_json row = {{"kind", r.kind},
                                  {"name", r.name},
                                  {"x_cm", 100.0 * r.at_m.x()},
                                  {"y_cm", 100.0 * r.at_m.y()},
                                  {"z_cm", 100.0 * r.at_m.z()},
                                  {"ppfd_umol_m2_s", r.ppfd_umol_m2_s},
                                  {"dli_mol_m2_d", r.dli_mol_m2_d}};
    if (!std::isnan(r.need_dli_mol_m2_d)) {
        row["need_umol_m2_s"] = r.need_umol_m2_s;
        row["need_dli_mol_m2_d"] = r.need_dli_mol_m2_d;
    }
    if (!std::isnan(r.stderr_umol_m2_s)) row["stderr_umol_m2_s"] = r.stderr_umol_m2_s;
    return row;
}

}  // namespace

double dli_of(const Layout& layout, const double* by_lamp_umol_m2_s) {
    constexpr double kMolPerUmolHours = 3600.0 * 1e-6;
    double dli = 0.0;
    for (std::size_t l = 0; l < layout.lamps.size(); ++l)
        dli += by_lamp_umol_m2_s[l] * layout.lamps[l].day.plateau_hours() * kMolPerUmolHours;
    return dli;
}

Vec3 point_in_water(const Tank& tank, const std::string& text) {
    const Box water{Vec3::Zero(), Vec3(tank.length_m, tank.width_m, tank.water_depth_m)};
    Vec3 at = point_of(text);
    if (!water.contains(at))
        throw UsageError(
            fmt::format("--at {} is outside the water: 0 to {:g}, 0 to {:g}, 0 to {:g} cm",
                        escape_control(text), 100.0 * tank.length_m, 100.0 * tank.width_m,
                        100.0 * tank.water_depth_m));
    return at;
}

LightRow bed_row(const BedGrid& grid, int i, int j) {
    return {"bed", fmt::format("{} {}", i + 1, j + 1), Vec3(grid.x_m(i), grid.y_m(j), 0.0)};
}

std::string csv_text(const std::vector<LightRow>& rows, bool with_stderr) {
    std::string text =
        "kind,name,x_cm,y_cm,z_cm,ppfd_umol_m2_s,dli_mol_m2_d,need_umol_m2_s,need_dli_mol_m2_d";
    text += with_stderr ? ",stderr_umol_m2_s\n" : "\n";
    for (const LightRow& r : rows) {
        text += fmt::format("{},{},{:.9g},{:.9g},{:.9g},{},{},{},{}", r.kind, csv_name(r.name),
                            100.0 * r.at_m.x(), 100.0 * r.at_m.y(), 100.0 * r.at_m.z(),
                            csv_number(r.ppfd_umol_m2_s), csv_number(r.dli_mol_m2_d),
                            csv_number(r.need_umol_m2_s), csv_number(r.need_dli_mol_m2_d));
        if (with_stderr) text += fmt::format(",{}", csv_number(r.stderr_umol_m2_s));
        text += '\n';
    }
    return text;
}

nlohmann::ordered_json rows_document(const Prepared& prepared, const std::vector<LightRow>& rows) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const LightRow& row : rows) list.push_back(row_json(row));
    return {{"format", 1},
            {"layout", prepared.layout().path},
            {"output_scale", prepared.calibration.output_scale},
            {"rows", list},
            {"warnings", warning_sentences(prepared.file.warnings)}};
}

}  // namespace bedshade
