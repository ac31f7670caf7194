#include "sim/input/traits/trait_checks.h"

#include <fmt/format.h>

#include "sim/base/text.h"

namespace bedshade {
namespace {

/// Back from metres without the digits that binary fractions add.
std::string in_unit(double si, double unit) { return fmt::format("{:.6g}", si / unit); }

void check_id(const Taxon& t, const ReportTraitError& report_error) {
    for (const char c : t.id) {
        const bool ok = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
        if (ok) continue;
        report_error("id", fmt::format("is \"{}\"", escape_control(t.id)),
                     "lower-case letters, digits and hyphens, as in montipora-digitata");
        return;
    }
}

void check_growth(const Taxon& t, const ReportTraitError& report_error) {
    const Spread& e = t.extension_mm_yr;
    if (e.low > e.mean)
        report_error("extension_low_mm_yr",
                     fmt::format("is {}, above extension_mean_mm_yr, {}", e.low, e.mean),
                     "low <= mean <= high");
    if (e.mean > e.high)
        report_error("extension_high_mm_yr",
                     fmt::format("is {}, below extension_mean_mm_yr, {}", e.high, e.mean),
                     "low <= mean <= high");
}

void check_no_light_values(const Taxon& t, const ReportTraitError& report_error) {
    const auto must_be_zero = [&](const char* column, double value) {
        if (value == 0.0) return;
        report_error(column, fmt::format("is {}, but saturation_umol_m2_s is 0", value),
                     "0 in every light column for a coral that lives on food alone");
    };
    must_be_zero("compensation_umol_m2_s", t.compensation_umol_m2_s);
    must_be_zero("saturation_high_umol_m2_s", t.saturation_high_umol_m2_s);
    must_be_zero("dli_min_mol_m2_d", t.dli_min_mol_m2_d);
    must_be_zero("dli_full_mol_m2_d", t.dli_full_mol_m2_d);
}

void check_light(const Taxon& t, const ReportTraitError& report_error) {
    if (!t.photosynthetic()) return check_no_light_values(t, report_error);
    const double saturation = t.saturation_umol_m2_s;
    if (t.compensation_umol_m2_s <= 0.0 || t.compensation_umol_m2_s >= saturation)
        report_error("compensation_umol_m2_s",
                     fmt::format("is {}, with saturation_umol_m2_s {}", t.compensation_umol_m2_s,
                                 saturation),
                     "above 0 and below saturation");
    if (t.saturation_high_umol_m2_s < saturation)
        report_error("saturation_high_umol_m2_s",
                     fmt::format("is {}, below saturation_umol_m2_s, {}",
                                 t.saturation_high_umol_m2_s, saturation),
                     "at least saturation_umol_m2_s");
    if (t.inhibition_umol_m2_s <= saturation)
        report_error("inhibition_umol_m2_s",
                     fmt::format("is {}, not above saturation_umol_m2_s, {}",
                                 t.inhibition_umol_m2_s, saturation),
                     "above saturation_umol_m2_s; 100000 where strong light does no harm");
    if (t.dli_min_mol_m2_d >= t.dli_full_mol_m2_d)
        report_error("dli_min_mol_m2_d",
                     fmt::format("is {}, not below dli_full_mol_m2_d, {}", t.dli_min_mol_m2_d,
                                 t.dli_full_mol_m2_d),
                     "below dli_full_mol_m2_d");
}

void check_flow(const Taxon& t, const ReportTraitError& report_error) {
    if (t.flow_low_m_s < t.flow_high_m_s) return;
    report_error("flow_low_cm_s",
                 fmt::format("is {}, not below flow_high_cm_s, {}", in_unit(t.flow_low_m_s, 0.01),
                             in_unit(t.flow_high_m_s, 0.01)),
                 "below flow_high_cm_s");
}

void check_spread_grain(const Taxon& t, const ReportTraitError& report_error) {
    const std::string range =
        fmt::format("is {}, with spread_grain_high_mm {}", in_unit(t.spread_grain_low_m, 0.001),
                    in_unit(t.spread_grain_high_m, 0.001));
    const bool none = t.spread_grain_low_m == 0.0 && t.spread_grain_high_m == 0.0;
    if (t.spreads_on == SpreadsOn::rock && !none)
        report_error("spread_grain_low_mm", range + ", but spreads_on is rock",
                     "0 and 0 for what spreads on rock alone");
    if (t.spreads_on != SpreadsOn::rock && t.spread_grain_low_m >= t.spread_grain_high_m)
        report_error("spread_grain_low_mm", range, "a range of grains, low below high");
}

void check_preferred_grain(const Taxon& t, const ReportTraitError& report_error) {
    const bool none = t.preferred_grain_low_m == 0.0 && t.preferred_grain_high_m == 0.0;
    if (none || t.preferred_grain_low_m < t.preferred_grain_high_m) return;
    report_error("preferred_grain_low_mm",
                 fmt::format("is {}, with preferred_grain_high_mm {}",
                             in_unit(t.preferred_grain_low_m, 0.001),
                             in_unit(t.preferred_grain_high_m, 0.001)),
                 "low below high, or 0 and 0 for no preference");
}

}  // namespace

void check_trait_row(const Taxon& taxon, const ReportTraitError& report_error) {
    check_id(taxon, report_error);
    check_growth(taxon, report_error);
    check_light(taxon, report_error);
    check_flow(taxon, report_error);
    check_spread_grain(taxon, report_error);
    check_preferred_grain(taxon, report_error);
}

}  // namespace bedshade
