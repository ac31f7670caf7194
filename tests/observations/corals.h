// Corals of the built-in table, grown, starved and buried by the model's functions.
#pragma once

#include <string>

#include "model/growth/ambient_conditions.h"
#include "model/reef/reef.h"
#include "model/reef/taxon.h"

namespace bedshade::test {

const Taxon& table_row(const std::string& id);

/// A colony alone in a tank it cannot fill, in full light, in weekly steps.
ColonyState grown(const Taxon& taxon, double diameter_m, double days);

/// Gain of its radius in a year of such growth [mm].
double radius_gain_mm(const Taxon& taxon);

/// Fraction of full growth under ten even hours of this daily light, acclimated to it [0, 1].
double growth_share(const Taxon& taxon, double dli_mol_m2_d, const AmbientConditions& ambient = {});

/// Reserve left after days under ten even hours of this daily light, acclimated to it [0, 1].
double reserve_left(const Taxon& taxon, double dli_mol_m2_d, double days,
                    const AmbientConditions& ambient = {});

/// Days until tissue begins to die under steady deposition in still water, or 1e9 if it survives
/// `within_d`. Sand shades the tissue, the reserve falls, and with it the rejection rate.
double days_to_burial(const Taxon& taxon, double fallout_mg_cm2_d, double within_d,
                      double plateau_umol_m2_s);

/// Longest daily walk, in `days` days on bare sand, of a coral 4 cm across [cm].
double longest_walk_cm(const Taxon& taxon, int days);

/// Mean daily walk toward light over a year, with a relative difference of light between its sides
/// of 0.3 [cm/d].
double walk_toward_light_cm_d(const Taxon& taxon);

/// Hours until it is free of a centimetre of sand, or until tissue dies under it [h].
double hours_to_dig_out(const Taxon& taxon);

/// Fraction of its surface that a coral 8 cm across loses in `days` to a soft coral `gap_cm` away,
/// in full light, while it also heals.
double lost_to_chemistry(const Taxon& taxon, const Taxon& soft, double gap_cm, double days);

}  // namespace bedshade::test
