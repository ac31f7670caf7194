// Traits of one taxon of corals: a row of the trait table.
#pragma once

#include <array>
#include <string>
#include <vector>

namespace bedshade {

/// Growth forms; each has one vertical profile and one growth rule (model/growth/forms.h).
enum class Form {
    laminar,           ///< thin plates and whorls
    tabular,           ///< table on a stalk
    branching,         ///< open or closed thickets: a porous canopy
    massive,           ///< domes
    encrusting,        ///< sheets that follow their substrate
    columnar,          ///< upright columns and fronds
    phaceloid,         ///< heads on branching stalks
    solitary,          ///< single fleshy polyps and meandroid cones
    free_living_disc,  ///< loose discs and tongues on the sand
    bowl,              ///< cups
    stalked_soft,      ///< leathers and other stalked soft corals
    mat,               ///< polyps that spread over the substrate
};
inline constexpr std::array kForms = {Form::laminar,   Form::tabular,      Form::branching,
                                      Form::massive,   Form::encrusting,   Form::columnar,
                                      Form::phaceloid, Form::solitary,     Form::free_living_disc,
                                      Form::bowl,      Form::stalked_soft, Form::mat};

/// The name of a form in the trait table ("free-living-disc").
const char* to_string(Form form);

enum class SpreadsOn { rock, sand, both };

/// Confidence in a group of traits, as given in the trait table.
enum class Confidence { read, mixed, analog, memory, practice };
const char* to_string(Confidence confidence);

/// A trait with its range: mean, lowest and highest observed value.
struct Spread {
    double mean = 0.0, low = 0.0, high = 0.0;
};

struct Evidence {
    std::string source;
    Confidence confidence = Confidence::analog;
};

struct Taxon {
    std::string id;  ///< kebab case, unique
    std::string scientific_name;
    std::vector<std::string> aliases;  ///< trade names
    Form form = Form::massive;

    Spread extension_mm_yr;            ///< of the outline's radius in full light
    double vertical_per_radial = 0.5;  ///< height gained per radius gained [1]
    double max_diameter_m = 1.0;
    double canopy_m2_per_m3 = 0.0;  ///< one-sided area per volume; 0 = opaque [1/m]
    Evidence growth;

    double compensation_umol_m2_s = 0.0;     ///< Ec, where gross photosynthesis meets respiration
    double saturation_umol_m2_s = 0.0;       ///< Ek of shade-acclimated tissue (the low end)
    double saturation_high_umol_m2_s = 0.0;  ///< Ek of tissue acclimated to strong light
    double inhibition_umol_m2_s = 0.0;       ///< onset of inhibition by strong light
    double acclimation_d = 10.0;             ///< time constant of Ek
    double dli_min_mol_m2_d = 0.0;           ///< evidence: daily light of zero net carbon (10 h)
    double dli_full_mol_m2_d = 0.0;          ///< evidence: daily light of full growth (10 h)
    Evidence light;

    double food_share = 0.0;  ///< of a day's respiration met by feeding [1]
    Evidence food;
    double reserve_d = 30.0;      ///< days of full dark respiration the reserve lasts
    double recession_mm_d = 0.5;  ///< recession of the edge once the reserve is exhausted
    Evidence shade;

    int sand_class = 3;                 ///< 1 sensitive to 5 tolerant of sand on its tissue
    double sand_onset_mg_cm2_d = 0.0;   ///< evidence: chronic deposition at which harm begins
    double burial_d = 1.0;              ///< days of full burial survived
    double clearing_still_per_d = 1.0;  ///< sediment rejection rate in still water
    double clearing_flow_gain =
        1.5;  ///< increase of the rate factor per 0.1 m/s, up to x2.5 in total
    double sand_trap =
        0.5;  ///< fraction of deposition that its shape keeps: 0 sheds all, 1 a bowl [1]
    Evidence sand;

    double flow_low_m_s = 0.02, flow_high_m_s = 0.3;
    Evidence flow;

    double reach_polyps_m = 0.0, reach_sweepers_m = 0.0;
    double sting_rank = 0.0;  ///< 0 to 100, higher wins
    double allelopathy_m = 0.0;
    Evidence contact;

    SpreadsOn spreads_on = SpreadsOn::rock;
    double spread_grain_low_m = 0.0,
           spread_grain_high_m = 0.0;  ///< grains it can spread over; 0, 0: none
    double mobility_m_d = 0.0;         ///< largest distance it walks on sand in a day
    double preferred_grain_low_m = 0.0, preferred_grain_high_m = 0.0;  ///< 0, 0: no preference
    bool bothered_by_base_dwellers = false;
    double overhang_m = 0.0;  ///< tissue beyond the skeleton when inflated
    Evidence habit;

    std::string caution;  ///< handling caution, printed verbatim
    std::string notes;

    bool photosynthetic() const { return saturation_umol_m2_s > 0.0; }
};

}  // namespace bedshade
