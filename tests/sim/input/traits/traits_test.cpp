// The trait table: what the built-in one holds, and every message a user's own can get.
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <map>
#include <set>

#include "sim/input/text/csv.h"
#include "sim/input/traits/builtin_traits.h"
#include "sim/input/traits/trait_columns.h"
#include "sim/input/traits/traits_reader.h"

using namespace bedshade;
using Catch::Matchers::Contains;

namespace {

/// A whole row by column name, to be spoilt one cell at a time.
using Row = std::map<std::string, std::string>;

Row row_of(const std::string& id) {
    std::vector<Diagnostic> diagnostics;
    const auto rows = split_csv(builtin_traits_csv(), "t", diagnostics);
    for (const auto& row : rows) {
        if (row.cells[0].text != id) continue;
        Row out;
        for (std::size_t i = 0; i < row.cells.size(); ++i)
            out[rows[0].cells[i].text] = row.cells[i].text;
        return out;
    }
    FAIL("no row " << id);
    return {};
}

std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string csv_of(const std::vector<Row>& rows) {
    const auto columns = trait_column_names();
    std::string csv = fmt::format("{}\n", fmt::join(columns, ","));
    for (const auto& row : rows) {
        std::vector<std::string> cells;
        for (const auto& name : columns) cells.push_back(quoted(row.at(name)));
        csv += fmt::format("{}\n", fmt::join(cells, ","));
    }
    return csv;
}

/// A taxon of its own, so that no name is taken.
Row fresh_row() {
    Row row = row_of("montipora-capricornis");
    row["id"] = "my-plate";
    row["aliases"] = "";
    row["scientific_name"] = "Montipora sp.";
    return row;
}

std::vector<Diagnostic> problems_of(const std::string& csv) {
    TraitTable table = builtin_traits();
    const std::string before = table.text();
    try {
        table.overlay(csv, "mine.csv");
    } catch (const InputError& error) {
        CHECK(table.text() == before);
        return error.diagnostics();
    }
    return {};
}

/// The one problem that a spoilt cell makes.
Diagnostic problem_with(const std::string& column, const std::string& cell) {
    Row row = fresh_row();
    REQUIRE(row.contains(column));
    row[column] = cell;
    const auto diagnostics = problems_of(csv_of({row}));
    INFO(column << " = " << cell);
    REQUIRE(diagnostics.size() == 1);
    CHECK(diagnostics[0].file == "mine.csv");
    CHECK(diagnostics[0].line == 2);
    return diagnostics[0];
}

}  // namespace

TEST_CASE("the built-in table has every kind of coral") {
    const TraitTable table = builtin_traits();
    CHECK(table.taxa().size() == 46);
    for (const char* name :
         {"montipora-capricornis", "plating montipora", "Plate Coral", "bubble coral",
          "torch coral", "toadstool leather", "mushroom", "TRACHYPHYLLIA GEOFFROYI", "euphyllia",
          "tubastraea", "herpolitha-limax", "polyphyllia-talpina", "diaseris-distorta",
          "lobophyllia-vitiensis"}) {
        INFO(name);
        CHECK(table.find(name) != nullptr);
    }
    CHECK(table.find("torch coral")->id == "euphyllia");
    CHECK(table.find("no such coral") == nullptr);
    CHECK(table.find("") == nullptr);
}

TEST_CASE("every form of growth has a row") {
    const TraitTable table = builtin_traits();
    std::set<Form> forms;
    for (const Taxon& taxon : table.taxa()) forms.insert(taxon.form);
    CHECK(forms.size() == kForms.size());
}

TEST_CASE("a row comes out in SI units") {
    const TraitTable table = builtin_traits();
    const Taxon& plate = *table.find("montipora-capricornis");
    CHECK(plate.form == Form::laminar);
    CHECK(plate.extension_mm_yr.mean == 45.0);
    CHECK(plate.extension_mm_yr.low == 20.0);
    CHECK(plate.extension_mm_yr.high == 80.0);
    CHECK(plate.max_diameter_m == Approx(1.5));
    CHECK(plate.flow_low_m_s == Approx(0.05));
    CHECK(plate.reach_polyps_m == Approx(0.005));
    CHECK(plate.sand_class == 1);
    CHECK(plate.sand_trap == 0.75);
    CHECK(plate.growth.confidence == Confidence::analog);
    CHECK(plate.spreads_on == SpreadsOn::rock);

    const Taxon& mushroom = *table.find("discosoma");
    CHECK(mushroom.spreads_on == SpreadsOn::both);
    CHECK(mushroom.spread_grain_low_m == Approx(0.005));
    CHECK(mushroom.spread_grain_high_m == Approx(0.1));

    const Taxon& walker = *table.find("diaseris-distorta");
    CHECK(walker.mobility_m_d == Approx(0.30));
    CHECK(table.find("trachyphyllia-geoffroyi")->bothered_by_base_dwellers);
    CHECK_FALSE(table.find("tubastraea")->photosynthetic());
}

TEST_CASE("an open thicket's radius grows at half its tip rate") {
    const TraitTable table = builtin_traits();
    const Taxon& thicket = *table.find("acropora-muricata");
    CHECK(thicket.extension_mm_yr.mean == 40.0);
    CHECK_THAT(thicket.growth.source, Contains("half the tip rate"));
}

TEST_CASE("every zoanthid carries the palytoxin caution, every stony coral the permit") {
    const TraitTable table = builtin_traits();
    for (const char* id : {"zoanthus", "palythoa"})
        CHECK_THAT(table.find(id)->caution, Contains("palytoxin"));
    for (const char* id : {"euphyllia", "acropora-muricata", "fungia", "tubastraea"})
        CHECK_THAT(table.find(id)->caution, Contains("CITES"));
    CHECK_THAT(table.find("tubastraea")->caution, Contains("never release"));
}

TEST_CASE("names include every id and alias") {
    const auto names = builtin_traits().names();
    const std::set<std::string> set(names.begin(), names.end());
    CHECK(set.size() == names.size());
    CHECK(set.contains("euphyllia"));
    CHECK(set.contains("hammer coral"));
}

TEST_CASE("a user's whole row is added, and replaces one with its id") {
    TraitTable table = builtin_traits();
    table.overlay(csv_of({fresh_row()}), "mine.csv");
    CHECK(table.taxa().size() == 47);
    Row row = fresh_row();
    row["extension_mean_mm_yr"] = "60.5";
    table.overlay(csv_of({row}), "mine.csv");
    CHECK(table.taxa().size() == 47);
    CHECK(table.find("my-plate")->extension_mm_yr.mean == 60.5);
}

TEST_CASE("columns left out keep their values for ids already there") {
    TraitTable table = builtin_traits();
    const Taxon before = *table.find("euphyllia");
    table.overlay("id,extension_mean_mm_yr\r\neuphyllia,14\r\n", "mine.csv");
    const Taxon& after = *table.find("euphyllia");
    CHECK(after.extension_mm_yr.mean == 14.0);
    CHECK(after.extension_mm_yr.high == before.extension_mm_yr.high);
    CHECK(after.aliases == before.aliases);
    CHECK(after.light.source == before.light.source);
}

TEST_CASE("the stored text reads back as the same table") {
    TraitTable table = builtin_traits();
    table.overlay("\xEF\xBB\xBFid,flow_low_cm_s\neuphyllia,4", "mine.csv");
    table.overlay("id,reserve_d\neuphyllia,21", "more.csv");
    TraitTable again;
    again.overlay(table.text(), "stored");
    REQUIRE(again.taxa().size() == table.taxa().size());
    CHECK(again.find("euphyllia")->flow_low_m_s == Approx(0.04));
    CHECK(again.find("euphyllia")->reserve_d == 21.0);
    CHECK(again.text() == table.text());
}

TEST_CASE("a new taxon with columns missing is refused, and the nearest id suggested") {
    const auto diagnostics = problems_of("id,reserve_d\neuphylia,21\n");
    REQUIRE(diagnostics.size() == 1);
    CHECK(diagnostics[0].line == 2);
    CHECK(diagnostics[0].column == 1);
    CHECK_THAT(diagnostics[0].what, Contains("lacks scientific_name, aliases, form"));
    CHECK_THAT(diagnostics[0].help, Contains("did you mean euphyllia?"));
}

TEST_CASE("one missing column is reported") {
    Row row = fresh_row();
    std::string csv = csv_of({row});
    const std::string name = ",flow_low_cm_s";
    csv.replace(csv.find(name), name.size(), "");
    const std::string cell = ",\"5\",\"30\",\"common practice\"";
    csv.replace(csv.find(cell), cell.size(), ",\"30\",\"common practice\"");
    const auto diagnostics = problems_of(csv);
    REQUIRE(diagnostics.size() == 1);
    CHECK_THAT(diagnostics[0].what, Contains("lacks flow_low_cm_s"));
}

TEST_CASE("an unknown column is reported with the nearest known one") {
    const auto diagnostics = problems_of("id,reserve_days,reserve_d,reserve_d\neuphyllia,1,1,1\n");
    REQUIRE(diagnostics.size() == 2);
    CHECK(diagnostics[0].line == 1);
    CHECK(diagnostics[0].column == 4);
    CHECK(diagnostics[0].what == "unknown column \"reserve_days\"");
    CHECK(diagnostics[0].help == "did you mean reserve_d?");
    CHECK(diagnostics[1].what == "column \"reserve_d\" appears twice");
}

TEST_CASE("cells without an allowed number are reported") {
    const Diagnostic word = problem_with("reserve_d", "long");
    CHECK(word.what == "reserve_d is \"long\", not a number");
    CHECK(word.help == "a number from 0.1 to 1000 d");
    CHECK(word.column > 1);
    CHECK(problem_with("reserve_d", "").what == "reserve_d is empty");
    CHECK(problem_with("reserve_d", "nan").what == "reserve_d is \"nan\", not a number");
    CHECK(problem_with("reserve_d", "inf").what == "reserve_d is \"inf\", not a number");
    CHECK(problem_with("reserve_d", "1e999").what == "reserve_d is \"1e999\", not a number");
    CHECK(problem_with("reserve_d", "20 d").what == "reserve_d is \"20 d\", not a number");
    CHECK_THAT(problem_with("reserve_d", "20,5").help, Contains("dot before its decimals"));
    CHECK(problem_with("extension_high_mm_yr", "501").what ==
          "extension_high_mm_yr is 501, above 500");
    CHECK(problem_with("food_share", "-0.1").what == "food_share is -0.1, below 0");
    CHECK(problem_with("food_share", "1.6").help == "a number from 0 to 1.5");
    CHECK(problem_with("reserve_d", "\x1b[31m").what == "reserve_d is \"\\x1B[31m\", not a number");
}

TEST_CASE("cells without an allowed word are reported") {
    const Diagnostic form = problem_with("form", "lamina");
    CHECK(form.what == "form is \"lamina\"");
    CHECK_THAT(form.help, Contains("did you mean laminar?") && Contains("free-living-disc"));
    CHECK(problem_with("sand_class", "6").help == "one of 1, 2, 3, 4, 5");
    CHECK(problem_with("spreads_on", "glass").help == "one of rock, sand, both");
    CHECK(problem_with("bothered_by_base_dwellers", "").what ==
          "bothered_by_base_dwellers is empty");
    CHECK_THAT(problem_with("light_confidence", "sure").help, Contains("practice"));
    CHECK(problem_with("light_source", "").what == "light_source is empty");
    CHECK(problem_with("notes", std::string(2001, 'x')).what == "notes is 2001 bytes long");
    std::string many = "alias 0";
    for (int i = 1; i < 51; ++i) many += fmt::format("; alias {}", i);
    CHECK(problem_with("aliases", many).what == "aliases has 51 names");
}

TEST_CASE("contradictory values are reported") {
    CHECK(problem_with("extension_low_mm_yr", "46").what ==
          "extension_low_mm_yr is 46, above extension_mean_mm_yr, 45");
    CHECK(problem_with("extension_high_mm_yr", "44").help == "low <= mean <= high");
    CHECK_THAT(problem_with("compensation_umol_m2_s", "150").help, Contains("below saturation"));
    CHECK_THAT(problem_with("saturation_high_umol_m2_s", "149").what, Contains("below"));
    CHECK_THAT(problem_with("inhibition_umol_m2_s", "150").what, Contains("not above"));
    CHECK(problem_with("dli_min_mol_m2_d", "9").what ==
          "dli_min_mol_m2_d is 9, not below dli_full_mol_m2_d, 8.1");
    CHECK(problem_with("flow_low_cm_s", "30").what ==
          "flow_low_cm_s is 30, not below flow_high_cm_s, 30");
    CHECK_THAT(problem_with("spread_grain_high_mm", "3").what, Contains("spreads_on is rock"));
    CHECK_THAT(problem_with("spreads_on", "sand").help, Contains("low below high"));
    CHECK_THAT(problem_with("preferred_grain_low_mm", "2").help, Contains("no preference"));
    CHECK_THAT(problem_with("id", "My Plate").help, Contains("lower-case letters"));
}

TEST_CASE("a coral that lives on food alone has no light values") {
    Row row = fresh_row();
    row["saturation_umol_m2_s"] = "0";
    const auto diagnostics = problems_of(csv_of({row}));
    CHECK(diagnostics.size() == 4);
    for (const auto& problem : diagnostics)
        CHECK_THAT(problem.what, Contains("saturation_umol_m2_s is 0"));
}

TEST_CASE("all problems of all rows come in one pass") {
    Row first = fresh_row(), second = fresh_row(), third = fresh_row();
    first["reserve_d"] = "x";
    first["form"] = "blob";
    second["id"] = "my-other";
    second["dli_min_mol_m2_d"] = "20";
    third["food_share"] = "7";
    const auto diagnostics = problems_of(csv_of({first, second, third}));
    REQUIRE(diagnostics.size() == 4);
    CHECK(diagnostics[2].line == 3);
    CHECK(diagnostics[3].line == 4);
    CHECK(diagnostics[3].what == "id \"my-plate\" is in an earlier row too");
}

TEST_CASE("two taxa cannot share a name") {
    Row row = fresh_row();
    row["aliases"] = "fine plate; Torch Coral";
    const auto diagnostics = problems_of(csv_of({row}));
    REQUIRE(diagnostics.size() == 1);
    CHECK(diagnostics[0].line == 2);
    CHECK(diagnostics[0].what == "\"Torch Coral\" would name both euphyllia and my-plate");
}

TEST_CASE("invalid tables are refused with help") {
    CHECK(problems_of("").at(0).what == "has no rows");
    CHECK_THAT(problems_of("id;form\neuphyllia;mat\n").at(0).help, Contains("commas"));
    CHECK_THAT(problems_of("name,id\nx,euphyllia\n").at(0).what, Contains("not id"));
    CHECK_THAT(problems_of("id,form\neuphyllia,mat,3\n").at(0).what,
               Contains("the row has 3 cells, the header in line 1 has 2"));
    CHECK(problems_of(std::string(4'000'001, 'x')).at(0).what ==
          "the trait table is 4000001 bytes long");
    std::string many = "id\n";
    for (int i = 0; i < 5001; ++i) many += "a\n";
    CHECK_THAT(problems_of(many).at(0).what, Contains("has 5002 rows"));
}

TEST_CASE("no more than a hundred problems are listed, and the rest are counted") {
    std::string csv = "id,reserve_d\n";
    for (int i = 0; i < 150; ++i) csv += fmt::format("new-{},1\n", i);
    const auto diagnostics = problems_of(csv);
    REQUIRE(diagnostics.size() == 101);
    CHECK(diagnostics.back().what == "50 more problems are not shown");
}

TEST_CASE("text is cut into cells with their places") {
    std::vector<Diagnostic> diagnostics;
    const auto rows = split_csv(
        "\xEF\xBB\xBF"
        "a, b ,\"c, \"\"d\"\"\ne\"\r\n\r\n1,,\" 3 \"",
        "t", diagnostics);
    CHECK(diagnostics.empty());
    REQUIRE(rows.size() == 2);
    REQUIRE(rows[0].cells.size() == 3);
    CHECK(rows[0].cells[0].column == 1);
    CHECK(rows[0].cells[1].text == "b");
    CHECK(rows[0].cells[1].column == 4);
    CHECK(rows[0].cells[2].text == "c, \"d\"\ne");
    CHECK(rows[1].line == 4);
    REQUIRE(rows[1].cells.size() == 3);
    CHECK(rows[1].cells[1].text.empty());
    CHECK(rows[1].cells[2].text == " 3 ");
    CHECK(rows[1].cells[2].column == 4);
}

TEST_CASE("misplaced quotes are reported with their place") {
    std::vector<Diagnostic> diagnostics;
    const auto rows = split_csv("a,\"b\"c\nd,\"e\nf", "t", diagnostics);
    REQUIRE(diagnostics.size() == 2);
    CHECK(diagnostics[0].line == 1);
    CHECK(diagnostics[0].column == 6);
    CHECK(diagnostics[0].source_line == "a,\"b\"c");
    CHECK(diagnostics[1].line == 2);
    CHECK(diagnostics[1].column == 3);
    CHECK(diagnostics[1].what == "this quote is never closed");
    CHECK(rows.size() == 2);
}

TEST_CASE("a line is found by its number whatever ends it") {
    CHECK(line_of("a\r\nb\rc\nd", 1) == "a");
    CHECK(line_of("a\r\nb\rc\nd", 2) == "b");
    CHECK(line_of("a\r\nb\rc\nd", 3) == "c");
    CHECK(line_of("a\r\nb\rc\nd", 4) == "d");
    CHECK(line_of("a", 2).empty());
}
