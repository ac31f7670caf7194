// bedshade traits: the trait table, with units, sources and confidence.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/input/traits/trait_files.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {
namespace {

void print_list(const TraitTable& table) {
    fmt::print("{:<28} {:<17} {:>14} {:>16} {:>18}  {}\n", "taxon", "form", "radius mm/yr",
               "DLI min / full", "compensation / Ek", "evidence");
    for (const Taxon& t : table.taxa())
        fmt::print("{:<28} {:<17} {:>14} {:>16} {:>18}  growth {}, light {}\n", t.id,
                   to_string(t.form),
                   fmt::format("{:g} ({:g}-{:g})", t.extension_mm_yr.mean, t.extension_mm_yr.low,
                               t.extension_mm_yr.high),
                   fmt::format("{:g} / {:g}", t.dli_min_mol_m2_d, t.dli_full_mol_m2_d),
                   fmt::format("{:g} / {:g}", t.compensation_umol_m2_s, t.saturation_umol_m2_s),
                   to_string(t.growth.confidence), to_string(t.light.confidence));
    fmt::print(
        "\nDLI in mol m-2 a day (least to survive and for full growth, 10 h), light in umol m-2 "
        "s-1.\n"
        "bedshade traits TAXON shows all values of one, with sources.\n");
}

std::string known(const Evidence& evidence) {
    return fmt::format(
        "{}: {}", to_string(evidence.confidence),
        evidence.source.empty() ? "common practice, no source" : escape_control(evidence.source));
}

void print_group(const char* title, const std::string& figures, const Evidence& evidence) {
    fmt::print("  {:<9} {}\n            {}\n", title, figures, known(evidence));
}

void print_taxon(const Taxon& t) {
    fmt::print("{} ({}), {}\n", t.id, escape_control(t.scientific_name), to_string(t.form));
    if (!t.aliases.empty()) fmt::print("  also      {}\n", fmt::join(t.aliases, ", "));
    print_group(
        "growth",
        fmt::format("radius {:g} mm/yr ({:g} to {:g}), height {:g} of that, up to {:g} cm across",
                    t.extension_mm_yr.mean, t.extension_mm_yr.low, t.extension_mm_yr.high,
                    t.vertical_per_radial, 100.0 * t.max_diameter_m),
        t.growth);
    print_group(
        "light",
        t.photosynthetic()
            ? fmt::format("least {:g}, full growth {:g} mol m-2 a day (10 h); compensation {:g}, "
                          "Ek {:g} to {:g}, harm above {:g} umol m-2 s-1; acclimates in {:g} d",
                          t.dli_min_mol_m2_d, t.dli_full_mol_m2_d, t.compensation_umol_m2_s,
                          t.saturation_umol_m2_s, t.saturation_high_umol_m2_s,
                          t.inhibition_umol_m2_s, t.acclimation_d)
            : std::string("lives without light, on food"),
        t.light);
    print_group("food",
                fmt::format("meets {:.0f} % of a day's respiration when fed", 100.0 * t.food_share),
                t.food);
    print_group(
        "shade",
        fmt::format("reserve lasts {:g} d of full dark respiration, then recedes {:g} mm a day",
                    t.reserve_d, t.recession_mm_d),
        t.shade);
    print_group(
        "sand",
        fmt::format("class {} of 5, harm from {:g} mg/cm2 a day for weeks, burial survived {:g} d, "
                    "clears {:g} of it a day in still water, keeps {:.0f} % of what falls",
                    t.sand_class, t.sand_onset_mg_cm2_d, t.burial_d, t.clearing_still_per_d,
                    100.0 * t.sand_trap),
        t.sand);
    print_group("flow",
                fmt::format("{:g} to {:g} cm/s", 100.0 * t.flow_low_m_s, 100.0 * t.flow_high_m_s),
                t.flow);
    print_group(
        "contact",
        fmt::format(
            "polyps reach {:g} cm, sweepers {:g} cm, rank {:g} of 100, chemistry to {:g} cm",
            100.0 * t.reach_polyps_m, 100.0 * t.reach_sweepers_m, t.sting_rank,
            100.0 * t.allelopathy_m),
        t.contact);
    if (t.mobility_m_d > 0.0)
        fmt::print("  walks     up to {:g} cm a day on sand\n", 100.0 * t.mobility_m_d);
    if (!t.notes.empty()) fmt::print("  notes     {}\n", escape_control(t.notes));
    if (!t.caution.empty()) fmt::print("  caution   {}\n", escape_control(t.caution));
}

nlohmann::ordered_json taxon_json(const Taxon& t) {
    return {{"id", t.id},
            {"scientific_name", t.scientific_name},
            {"aliases", t.aliases},
            {"form", to_string(t.form)},
            {"extension_mm_yr",
             {t.extension_mm_yr.low, t.extension_mm_yr.mean, t.extension_mm_yr.high}},
            {"max_diameter_cm", 100.0 * t.max_diameter_m},
            {"dli_min_mol_m2_d", t.dli_min_mol_m2_d},
            {"dli_full_mol_m2_d", t.dli_full_mol_m2_d},
            {"compensation_umol_m2_s", t.compensation_umol_m2_s},
            {"saturation_umol_m2_s", {t.saturation_umol_m2_s, t.saturation_high_umol_m2_s}},
            {"inhibition_umol_m2_s", t.inhibition_umol_m2_s},
            {"food_share", t.food_share},
            {"reserve_d", t.reserve_d},
            {"sand_class", t.sand_class},
            {"flow_cm_s", {100.0 * t.flow_low_m_s, 100.0 * t.flow_high_m_s}},
            {"reach_cm", {100.0 * t.reach_polyps_m, 100.0 * t.reach_sweepers_m}},
            {"sting_rank", t.sting_rank},
            {"growth_confidence", to_string(t.growth.confidence)},
            {"growth_source", t.growth.source},
            {"light_confidence", to_string(t.light.confidence)},
            {"light_source", t.light.source},
            {"caution", t.caution},
            {"notes", t.notes}};
}

void print_json(const std::vector<Taxon>& taxa) {
    nlohmann::ordered_json rows = nlohmann::ordered_json::array();
    for (const Taxon& t : taxa) rows.push_back(taxon_json(t));
    const nlohmann::ordered_json document = {{"format", 1}, {"taxa", rows}};
    fmt::print("{}", json_text(document));
}

int run(const Arguments& arguments) {
    const TraitTable table = traits_with(arguments.layout_options().trait_files);
    if (arguments.words().empty()) {
        if (arguments.json())
            print_json(table.taxa());
        else
            print_list(table);
        return kDone;
    }
    const std::string& word = arguments.only_word("taxon");
    const Taxon* taxon = table.find(word);
    if (taxon == nullptr) {
        const std::string near = nearest_name(word, table.names());
        throw UsageError(
            fmt::format("'{}' is not in the trait table{}", escape_control(word),
                        near.empty() ? "" : fmt::format("; did you mean '{}'?", near)));
    }
    if (arguments.json())
        print_json({*taxon});
    else
        print_taxon(*taxon);
    return kDone;
}

}  // namespace

const Command kTraitsCommand = {
    "traits",
    "[TAXON]",
    "the trait table: growth, light, sand, reach, with units and sources",
    "Without a taxon: one line for each. With an id or a trade name: all its values, where each "
    "group\n"
    "comes from and how well it is known (read, mixed, analog, memory, practice).\n"
    "  bedshade traits\n  bedshade traits \"plating montipora\"",
    [](po::options_description&) {},
    run,
    kTakesTraits | kTakesJson};

}  // namespace bedshade
