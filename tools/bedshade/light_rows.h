// The rows that commands about light print, as CSV and JSON.
#pragma once

#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "model/base/bed_grid.h"

#include "tools/bedshade/prepare.h"

namespace bedshade {

/// One line of the table; what there is none of is NaN.
struct LightRow {
    std::string kind, name;
    Vec3 at_m;
    double ppfd_umol_m2_s = 0.0, dli_mol_m2_d = 0.0;
    double need_umol_m2_s = std::numeric_limits<double>::quiet_NaN();
    double need_dli_mol_m2_d = std::numeric_limits<double>::quiet_NaN();
    double stderr_umol_m2_s = std::numeric_limits<double>::quiet_NaN();
};

/// The day's photons behind plateau light by lamp [mol m-2 d-1].
double dli_of(const Layout& layout, const double* by_lamp_umol_m2_s);

/// What --at asks for: "60,30,0" in centimetres. Throws UsageError when it is no point or none in
/// the water.
Vec3 point_in_water(const Tank& tank, const std::string& text);

/// The row of a bed cell, named by its column and row from 1, without its light.
LightRow bed_row(const BedGrid& grid, int i, int j);

/// The whole table; with a last column of standard errors where they are asked for.
std::string csv_text(const std::vector<LightRow>& rows, bool with_stderr);

/// Layout, lamp scale, rows and warnings as the commands' JSON document.
nlohmann::ordered_json rows_document(const Prepared& prepared, const std::vector<LightRow>& rows);

}  // namespace bedshade
