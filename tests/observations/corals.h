// Corals of the built-in table, grown, starved and buried by the model's own functions.
#pragma once

#include <string>

#include "model/growth/ambient_conditions.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade::test {

const Taxon& table_row(const std::string& id);

/// A colony alone in a tank it cannot fill, in full light, in weekly steps.
ColonyState grown(const Taxon& taxon, double diameter_m, double days);

/// What its radius gains in a year of that [mm].
double radius_gain_mm(const Taxon& taxon);

/// Share of full growth under ten even hours of this daily light, acclimated to it [0, 1].
double growth_share(const Taxon& taxon, double dli_mol_m2_d, const AmbientConditions& ambient = {});

/// Reserve left after days under ten even hours of this daily light, acclimated to it [0, 1].
double reserve_left(const Taxon& taxon, double dli_mol_m2_d, double days,
                    const AmbientConditions& ambient = {});

/// Days until tissue begins to die under a steady fallout in still water, or 1e9 within the given
/// days. Under sand light falls short, the reserve goes, and with it the clearing.
double days_to_burial(const Taxon& taxon, double fallout_mg_cm2_d, double within_d,
                      double plateau_umol_m2_s);

/// Farthest that one 4 cm across goes in any of so many days on bare sand [cm].
double longest_walk_cm(const Taxon& taxon, int days);

/// How far a year's walks take it toward light of which its sides differ by a relative 0.3 [cm/d].
double way_to_light_cm_d(const Taxon& taxon);

/// Hours until it is out of a centimetre of sand, or until tissue dies under it [h].
double hours_to_be_free(const Taxon& taxon);

/// Share of its surface that a coral 8 cm across loses in `days` to a soft coral `gap_cm` away, in
/// full light, as it heals beside.
double lost_to_chemistry(const Taxon& taxon, const Taxon& soft, double gap_cm, double days);

}  // namespace bedshade::test
