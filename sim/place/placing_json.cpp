#include <cmath>
#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/place/placing_report.h"
#include "sim/place/placing_words.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

ordered_json finite_or_null(double value) {
    return std::isfinite(value) ? ordered_json(value) : ordered_json(nullptr);
}

ordered_json month_or_null(double day_d) {
    return std::isfinite(day_d) ? ordered_json(month_of_day(day_d)) : ordered_json(nullptr);
}

double in_unit(const SiteAssessment& assessment, Criterion criterion) {
    return assessment.criterion(criterion).worst * (is_length(criterion) ? 100.0 : 1.0);
}

std::string name_of(const BedForecast& bed, int colony) {
    return colony < 0 ? "" : bed.layout().colonies[static_cast<std::size_t>(colony)].name;
}

/// Who a margin is about, where it is about somebody.
std::string about(const BedForecast& bed, const SiteAssessment& assessment, Criterion criterion) {
    constexpr std::array kBounds = {"glass", "surface", "rock"};
    if (std::isinf(assessment.criterion(criterion).worst)) return "";
    if (criterion == Criterion::reach) return name_of(bed, assessment.neighbour);
    if (criterion == Criterion::shade) return name_of(bed, assessment.shaded);
    if (criterion == Criterion::room) return kBounds[static_cast<std::size_t>(assessment.meets)];
    return "";
}

ordered_json margins_json(const BedForecast& bed, const SiteAssessment& assessment) {
    ordered_json margins = ordered_json::object();
    for (const Criterion criterion : kCriteria) {
        const OverTime& margin = assessment.criterion(criterion);
        margins[to_string(criterion)] = {
            {"value", finite_or_null(in_unit(assessment, criterion))},
            {"unit", is_length(criterion) ? "cm" : "ln"},
            {"worst_month", std::isfinite(margin.worst) ? month_or_null(margin.worst_day_d)
                                                        : ordered_json(nullptr)},
            {"fails_from_month", month_or_null(margin.fails_from_d)},
            {"about", about(bed, assessment, criterion)}};
    }
    return margins;
}

ordered_json quantities_json(const SiteAssessment& assessment) {
    return {{"dli_mol_m2_d", assessment.dli_mol_m2_d},
            {"need_dli_mol_m2_d", assessment.need_dli_mol_m2_d},
            {"flow_cm_s", {100.0 * assessment.flow_low_m_s, 100.0 * assessment.flow_high_m_s}},
            {"fallout_mg_cm2_d", 100.0 * assessment.deposition_kg_m2_d},
            {"most_sand_mg_cm2", 100.0 * assessment.sand_kg_m2},
            {"grain_mm", 1e3 * assessment.grain_m},
            {"reserve_spent", assessment.starves}};
}

ordered_json size_json(double diameter_m, double height_m) {
    return {{"diameter_cm", 100.0 * diameter_m}, {"height_cm", 100.0 * height_m}};
}

ordered_json site_json(const Vec2& at_m) {
    return {{"x_cm", 100.0 * at_m.x()}, {"y_cm", 100.0 * at_m.y()}};
}

ordered_json known_json(const Taxon& taxon) {
    return {{"growth", to_string(taxon.growth.confidence)},
            {"light", to_string(taxon.light.confidence)},
            {"food", to_string(taxon.food.confidence)},
            {"sand", to_string(taxon.sand.confidence)},
            {"flow", to_string(taxon.flow.confidence)},
            {"contact", to_string(taxon.contact.confidence)},
            {"habit", to_string(taxon.habit.confidence)}};
}

ordered_json assessment_json(const BedForecast& bed, const Candidate& candidate,
                             const SiteAssessment& assessment) {
    const WorstCriterion worst = worst_of(assessment);
    return {{"taxon", candidate.taxon.id},
            {"scientific_name", candidate.taxon.scientific_name},
            {"does", assessment.does()},
            {"spot", site_json(assessment.at_m)},
            {"start", size_json(candidate.diameter_m, candidate.height_m)},
            {"end", size_json(assessment.end_diameter_m, assessment.end_height_m)},
            {"worst_margin", to_string(worst.criterion)},
            {"worst", finite_or_null(worst.value)},
            {"margins", margins_json(bed, assessment)},
            {"figures", quantities_json(assessment)},
            {"reasons", reasons_against(bed, candidate, assessment)},
            {"changes", changes_needed(bed, candidate, assessment)},
            {"notes", notes_on(bed, candidate, assessment)},
            {"known_by", known_by(candidate.taxon, assessment)},
            {"confidence", known_json(candidate.taxon)},
            {"caution", candidate.taxon.caution}};
}

const char* against_name(Against against) {
    constexpr std::array kNames = {"", "taken", "hold", "base-dwellers", ""};
    return kNames[static_cast<std::size_t>(against)];
}

/// One site of one kind's map: the main reason against it, and every margin.
ordered_json cell_json(const BedForecast& bed, const KindOnBed& kind, std::size_t cell) {
    ordered_json json = site_json(bed.site_m(cell));
    const SiteMark& mark = kind.marks[cell];
    json["does"] = mark.against == Against::nothing;
    json["against"] =
        mark.against == Against::criterion ? to_string(mark.criterion) : against_name(mark.against);
    if (mark.against == Against::taken) return json;
    const SiteAssessment assessment = at_site(bed, bed.site_m(cell), {kind.candidate}).front();
    for (const Criterion criterion : kCriteria)
        json[is_length(criterion) ? std::string(to_string(criterion)) + "_cm"
                                  : to_string(criterion)] =
            finite_or_null(in_unit(assessment, criterion));
    return json;
}

ordered_json kind_json(const BedForecast& bed, const KindOnBed& kind, bool with_map) {
    ordered_json json = assessment_json(bed, kind.candidate, kind.best);
    json["cells_that_do"] = kind.does_cells;
    json["share_of_bed"] = kind.open_cells == 0 ? 0.0
                                                : static_cast<double>(kind.does_cells) /
                                                      static_cast<double>(kind.open_cells);
    if (!with_map) return json;
    json["cells"] = ordered_json::array();
    for (std::size_t cell = 0; cell < bed.grid().size(); ++cell)
        if (bed.is_open_sand(cell)) json["cells"].push_back(cell_json(bed, kind, cell));
    return json;
}

std::string document(const BedForecast& bed, const PlacingRequest& request, ordered_json kinds) {
    const BedGrid& grid = bed.grid();
    const ordered_json all = {{"format", 1},
                              {"layout", bed.layout().path},
                              {"months", bed.layout().season.months},
                              {"seed", request.seed},
                              {"bed",
                               {{"nx", grid.nx},
                                {"ny", grid.ny},
                                {"cell_cm", {100.0 * grid.cell_x_m, 100.0 * grid.cell_y_m}},
                                {"open_cells", bed.open_cells()}}},
                              {"kinds", std::move(kinds)},
                              {"warnings", request.warnings}};
    return json_text(all);
}

}  // namespace

std::string placing_json(const BedForecast& bed, const std::vector<KindOnBed>& kinds,
                         const PlacingRequest& request, bool with_maps) {
    ordered_json rows = ordered_json::array();
    for (const std::size_t k : reporting_order(kinds))
        rows.push_back(kind_json(bed, kinds[k], with_maps));
    return document(bed, request, std::move(rows));
}

std::string placing_site_json(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const std::vector<SiteAssessment>& assessments,
                              const PlacingRequest& request) {
    ordered_json rows = ordered_json::array();
    for (const std::size_t k : reporting_order(assessments))
        rows.push_back(assessment_json(bed, candidates[k], assessments[k]));
    return document(bed, request, std::move(rows));
}

}  // namespace bedshade
