// Corals of the built-in table, grown, starved and buried by the model's own functions.
#pragma once

#include <string>

#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade::test {

const Taxon& table_row(const std::string& id);

/// A colony alone in a tank it cannot fill, in full light, in weekly steps.
ColonyState grown(const Taxon& taxon, double diameter_m, double days);

/// What its radius gains in a year of that [mm].
double radius_gain_mm(const Taxon& taxon);

/// Share of full growth under ten even hours of this daily light, acclimated to it [0, 1].
double growth_share(const Taxon& taxon, double dli_mol_m2_d, double feeding = 1.0);

/// Reserve left after days under ten even hours of this daily light, acclimated to it [0, 1].
double reserve_left(const Taxon& taxon, double dli_mol_m2_d, double days);

/// Days until tissue begins to die under a steady fallout in still water, or 1e9 within the given
/// days. Under sand light falls short, the reserve goes, and with it the clearing.
double days_to_burial(const Taxon& taxon, double fallout_mg_cm2_d, double within_d,
                      double plateau_umol_m2_s);

}  // namespace bedshade::test
