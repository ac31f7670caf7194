#include "sim/input/traits/trait_columns.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "sim/base/number_text.h"
#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::size_t kLongestText = 2000;  ///< bytes in one cell
constexpr std::size_t kMostNames = 50;      ///< aliases of one taxon
constexpr double kCm = 0.01, kMm = 0.001;

TraitColumn number(const char* name, double& (*of)(Taxon&), double low, double high,
                   const char* unit = "", double to_si = 1.0) {
    return {name, NumberField{of, to_si, low, high, unit}};
}

TraitColumn text(const char* name, std::string& (*of)(Taxon&), bool required) {
    return {name, TextField{of, required}};
}

std::vector<std::string> form_words() {
    std::vector<std::string> words;
    words.reserve(std::size(kForms));
    for (const Form form : kForms) words.emplace_back(to_string(form));
    return words;
}

std::vector<std::string> confidence_words() {
    std::vector<std::string> words;
    for (int c = 0; c <= static_cast<int>(Confidence::practice); ++c)
        words.emplace_back(to_string(static_cast<Confidence>(c)));
    return words;
}

// How a column reaches its field; a pointer to member cannot reach into a member of a member, and
// the name of one takes no parentheses.
// NOLINTBEGIN(bugprone-macro-parentheses)
#define TEXT_OF(member) [](Taxon& t) -> std::string& { return t.member; }
#define NUMBER_OF(member) [](Taxon& t) -> double& { return t.member; }
#define CONFIDENCE_OF(group) \
    [](Taxon& t, std::size_t w) { t.group.confidence = static_cast<Confidence>(w); }
// NOLINTEND(bugprone-macro-parentheses)

TraitColumn confidence(const char* name, void (*set)(Taxon&, std::size_t)) {
    return {name, WordField{confidence_words(), set}};
}

std::vector<TraitColumn> identity_columns() {
    return {
        text("id", TEXT_OF(id), true),
        text("scientific_name", TEXT_OF(scientific_name), true),
        {"aliases", NamesField{[](Taxon& t) -> std::vector<std::string>& { return t.aliases; }}},
        {"form", WordField{form_words(), [](Taxon& t, std::size_t w) { t.form = kForms[w]; }}}};
}

std::vector<TraitColumn> growth_columns() {
    return {number("extension_mean_mm_yr", NUMBER_OF(extension_mm_yr.mean), 0, 500, "mm/yr"),
            number("extension_low_mm_yr", NUMBER_OF(extension_mm_yr.low), 0, 500, "mm/yr"),
            number("extension_high_mm_yr", NUMBER_OF(extension_mm_yr.high), 0, 500, "mm/yr"),
            number("vertical_per_radial", NUMBER_OF(vertical_per_radial), 0, 5),
            number("max_diameter_cm", NUMBER_OF(max_diameter_m), 0.5, 2000, "cm", kCm),
            number("canopy_m2_per_m3", NUMBER_OF(canopy_m2_per_m3), 0, 500, "m2/m3"),
            text("growth_source", TEXT_OF(growth.source), true),
            confidence("growth_confidence", CONFIDENCE_OF(growth))};
}

std::vector<TraitColumn> light_columns() {
    return {
        number("compensation_umol_m2_s", NUMBER_OF(compensation_umol_m2_s), 0, 2000,
               "umol m-2 s-1"),
        number("saturation_umol_m2_s", NUMBER_OF(saturation_umol_m2_s), 0, 3000, "umol m-2 s-1"),
        number("saturation_high_umol_m2_s", NUMBER_OF(saturation_high_umol_m2_s), 0, 3000,
               "umol m-2 s-1"),
        number("inhibition_umol_m2_s", NUMBER_OF(inhibition_umol_m2_s), 0, 100000, "umol m-2 s-1"),
        number("acclimation_d", NUMBER_OF(acclimation_d), 0.1, 365, "d"),
        number("dli_min_mol_m2_d", NUMBER_OF(dli_min_mol_m2_d), 0, 60, "mol m-2 d-1"),
        number("dli_full_mol_m2_d", NUMBER_OF(dli_full_mol_m2_d), 0, 100, "mol m-2 d-1"),
        text("light_source", TEXT_OF(light.source), true),
        confidence("light_confidence", CONFIDENCE_OF(light))};
}

std::vector<TraitColumn> food_and_shade_columns() {
    return {number("food_share", NUMBER_OF(food_share), 0, 1.5),
            text("food_source", TEXT_OF(food.source), true),
            confidence("food_confidence", CONFIDENCE_OF(food)),
            number("reserve_d", NUMBER_OF(reserve_d), 0.1, 1000, "d"),
            number("recession_mm_d", NUMBER_OF(recession_mm_d), 0, 50, "mm/d"),
            text("shade_source", TEXT_OF(shade.source), true),
            confidence("shade_confidence", CONFIDENCE_OF(shade))};
}

std::vector<TraitColumn> sand_columns() {
    return {{"sand_class",
             WordField{{"1", "2", "3", "4", "5"},
                       [](Taxon& t, std::size_t w) { t.sand_class = static_cast<int>(w) + 1; }}},
            number("sand_onset_mg_cm2_d", NUMBER_OF(sand_onset_mg_cm2_d), 0, 1000, "mg cm-2 d-1"),
            number("burial_d", NUMBER_OF(burial_d), 0.01, 100, "d"),
            number("clearing_still_per_d", NUMBER_OF(clearing_still_per_d), 0, 100, "1/d"),
            number("clearing_flow_gain_per_10_cm_s", NUMBER_OF(clearing_flow_gain), 0, 10),
            number("sand_trap_share", NUMBER_OF(sand_trap), 0, 1),
            text("sand_source", TEXT_OF(sand.source), true),
            confidence("sand_confidence", CONFIDENCE_OF(sand))};
}

std::vector<TraitColumn> flow_columns() {
    return {number("flow_low_cm_s", NUMBER_OF(flow_low_m_s), 0, 200, "cm/s", kCm),
            number("flow_high_cm_s", NUMBER_OF(flow_high_m_s), 0.1, 500, "cm/s", kCm),
            text("flow_source", TEXT_OF(flow.source), true),
            confidence("flow_confidence", CONFIDENCE_OF(flow))};
}

std::vector<TraitColumn> contact_columns() {
    return {number("reach_polyps_cm", NUMBER_OF(reach_polyps_m), 0, 50, "cm", kCm),
            number("reach_sweepers_cm", NUMBER_OF(reach_sweepers_m), 0, 50, "cm", kCm),
            number("sting_rank", NUMBER_OF(sting_rank), 0, 100),
            number("allelopathy_cm", NUMBER_OF(allelopathy_m), 0, 200, "cm", kCm),
            text("contact_source", TEXT_OF(contact.source), true),
            confidence("contact_confidence", CONFIDENCE_OF(contact))};
}

std::vector<TraitColumn> habit_columns() {
    return {{"spreads_on",
             WordField{{"rock", "sand", "both"},
                       [](Taxon& t, std::size_t w) { t.spreads_on = static_cast<SpreadsOn>(w); }}},
            number("spread_grain_low_mm", NUMBER_OF(spread_grain_low_m), 0, 500, "mm", kMm),
            number("spread_grain_high_mm", NUMBER_OF(spread_grain_high_m), 0, 500, "mm", kMm),
            number("mobility_cm_d", NUMBER_OF(mobility_m_d), 0, 500, "cm/d", kCm),
            number("preferred_grain_low_mm", NUMBER_OF(preferred_grain_low_m), 0, 500, "mm", kMm),
            number("preferred_grain_high_mm", NUMBER_OF(preferred_grain_high_m), 0, 500, "mm", kMm),
            {"bothered_by_base_dwellers",
             WordField{{"no", "yes"},
                       [](Taxon& t, std::size_t w) { t.bothered_by_base_dwellers = w == 1; }}},
            number("overhang_cm", NUMBER_OF(overhang_m), 0, 50, "cm", kCm),
            text("habit_source", TEXT_OF(habit.source), true),
            confidence("habit_confidence", CONFIDENCE_OF(habit)),
            text("caution", TEXT_OF(caution), false),
            text("notes", TEXT_OF(notes), false)};
}

#undef TEXT_OF
#undef NUMBER_OF
#undef CONFIDENCE_OF

std::vector<TraitColumn> all_columns() {
    std::vector<TraitColumn> all;
    for (const auto& group :
         {identity_columns(), growth_columns(), light_columns(), food_and_shade_columns(),
          sand_columns(), flow_columns(), contact_columns(), habit_columns()})
        all.insert(all.end(), group.begin(), group.end());
    return all;
}

std::string allowed(const NumberField& field) {
    return fmt::format("a number from {} to {}{}{}", field.low, field.high, *field.unit ? " " : "",
                       field.unit);
}

std::string read_field(const NumberField& field, std::string_view cell, Taxon& taxon,
                       std::string& help) {
    help = allowed(field);
    if (cell.empty()) return "is empty";
    const auto value = number_in(cell);
    if (!value) {
        if (cell.find(',') != std::string_view::npos) help += ", with a dot before its decimals";
        return fmt::format("is \"{}\", not a number", escape_control(cell.substr(0, 40)));
    }
    if (*value < field.low || *value > field.high)
        return fmt::format("is {}, {} {}", cell, *value < field.low ? "below" : "above",
                           *value < field.low ? field.low : field.high);
    field.of(taxon) = *value * field.to_si;
    return {};
}

std::string read_field(const TextField& field, std::string_view cell, Taxon& taxon,
                       std::string& help) {
    help = fmt::format("at most {} bytes of text", kLongestText);
    if (field.required && cell.empty()) return "is empty";
    if (cell.size() > kLongestText) return fmt::format("is {} bytes long", cell.size());
    field.of(taxon) = cell;
    return {};
}

std::string read_field(const WordField& field, std::string_view cell, Taxon& taxon,
                       std::string& help) {
    for (std::size_t w = 0; w < field.words.size(); ++w)
        if (field.words[w] == cell) {
            field.set(taxon, w);
            return {};
        }
    help = fmt::format("one of {}", fmt::join(field.words, ", "));
    const std::string nearest = nearest_name(cell, field.words);
    if (!nearest.empty() && field.words[0].size() > 1)
        help = fmt::format("did you mean {}? {}", nearest, help);
    return cell.empty() ? "is empty" : fmt::format("is \"{}\"", escape_control(cell.substr(0, 40)));
}

/// Without outer blanks.
std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string read_field(const NamesField& field, std::string_view cell, Taxon& taxon,
                       std::string& help) {
    help = fmt::format("up to {} names separated by ;, at most {} bytes", kMostNames, kLongestText);
    if (cell.size() > kLongestText) return fmt::format("is {} bytes long", cell.size());
    std::vector<std::string> names;
    while (!cell.empty()) {
        const std::size_t end = std::min(cell.find(';'), cell.size());
        const std::string_view name = trimmed(cell.substr(0, end));
        if (!name.empty()) names.emplace_back(name);
        cell.remove_prefix(std::min(end + 1, cell.size()));
    }
    if (names.size() > kMostNames) return fmt::format("has {} names", names.size());
    field.of(taxon) = std::move(names);
    return {};
}

}  // namespace

const std::vector<TraitColumn>& trait_columns() {
    static const std::vector<TraitColumn> columns = all_columns();
    return columns;
}

std::vector<std::string> trait_column_names() {
    std::vector<std::string> names;
    for (const auto& column : trait_columns()) names.push_back(column.name);
    return names;
}

std::string read_trait(const TraitColumn& column, std::string_view cell, Taxon& taxon,
                       std::string& help) {
    return std::visit([&](const auto& field) { return read_field(field, cell, taxon, help); },
                      column.field);
}

}  // namespace bedshade
