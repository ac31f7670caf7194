// What keepers say of corals and sand beds (common practice, no source), as verdicts with their
// reasons.
#include <algorithm>
#include <catch2/catch.hpp>
#include <memory>
#include <optional>
#include <string>

#include "model/sediment/sediment_rejection.h"

#include "sim/advice/cuts.h"
#include "sim/base/pool.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/place/light_culprit.h"
#include "sim/place/placing.h"
#include "sim/place/placing_words.h"
#include "sim/run/calibration.h"
#include "sim/verdict/evaluated_run.h"

using namespace bedshade;

namespace {

bool go_on(double /*done*/) { return true; }

/// A tank of our own: medium sand with a patch of fine sand and one of rubble, a shelf of rock low
/// over the sand at the right, a plate low over it at the left, worms in the back left corner, and
/// a fish that sifts the middle.
const char* const kShelfAndPlate = R"(format = 1
[season]
start = 2027-01-04
months = 24
[tank]
length = "90 cm"
width = "50 cm"
water_depth = "40 cm"
[substrate]
grain = "1.2 mm"
[[substrate.patch]]
name = "fine sand"
around = "45 40 cm"
radius = "8 cm"
grain = "0.3 mm"
[[substrate.patch]]
name = "rubble"
around = "62 38 cm"
radius = "7 cm"
grain = "8 mm"
[water]
yellowing = 0.1
[[lamp]]
name = "lamp"
position = "45 25 cm"
height = "20 cm"
shape = "rectangle"
size = "40 20 cm"
photon_flux = 140
output = 0.6
day = { on = "10:00", off = "20:00", ramp = "1 h" }
[[pump]]
name = "pump"
position = "3 25 30 cm"
toward = "85 25 28 cm"
nozzle = "50 mm"
flow = "3000 L/h"
[[rock]]
name = "shelf"
shape = "box"
min = "74 18 7 cm"
max = "80 32 9 cm"
rests_on = "wall"
[[inhabitant]]
name = "sifting fish"
does = "stir"
events_per_day = 60
mass = "1 g"
lift = "5 cm"
hours = ["10:00", "20:00"]
around = "45 12 cm"
radius = "12 cm"
[[inhabitant]]
name = "bristle worms"
does = "dwell-at-bases"
count = 5
around = "12 40 cm"
radius = "9 cm"
[[colony]]
name = "low plate"
taxon = "montipora-capricornis"
position = "18 14 3.9 cm"
diameter = "14 cm"
height = "2 cm"
)";

/// A layout looked ahead once, for all tests of it.
class Bed {
  public:
    explicit Bed(LayoutFile file)
        : file_(std::move(file)),
          pool_(allotted_processors()),
          ahead_(std::make_unique<BedForecast>(
              file_.layout, RunOptions{1, 0, calibrate(file_.layout).output_scale},
              pool_.parallel_for(), go_on)) {}

    const BedForecast& ahead() const { return *ahead_; }

    Candidate kind(const std::string& id) const {
        static const TraitTable table = builtin_traits();
        const Taxon* const taxon = table.find(id);
        REQUIRE(taxon != nullptr);
        return candidate_of(*taxon);
    }
    KindOnBed over_bed(const std::string& id) {
        return survey(*ahead_, {kind(id)}, pool_.parallel_for(), go_on).front();
    }
    SiteAssessment at(const std::string& id, double x_cm, double y_cm) const {
        return at_site(*ahead_, Vec2(0.01 * x_cm, 0.01 * y_cm), {kind(id)}).front();
    }
    std::vector<std::string> against(const std::string& id,
                                     const SiteAssessment& assessment) const {
        return reasons_against(*ahead_, kind(id), assessment);
    }
    std::vector<std::string> notes(const std::string& id, const SiteAssessment& assessment) const {
        return notes_on(*ahead_, kind(id), assessment);
    }

  private:
    LayoutFile file_;
    Pool pool_;
    std::unique_ptr<BedForecast> ahead_;
};

Bed& demo() {
    static Bed bed(read_layout(BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml"));
    return bed;
}

Bed& shelf_and_plate() {
    static Bed bed(read_layout_text(kShelfAndPlate, "shelf_and_plate.toml"));
    return bed;
}

bool says(const std::vector<std::string>& sentences, const std::string& words) {
    return std::any_of(sentences.begin(), sentences.end(), [&](const std::string& sentence) {
        return sentence.find(words) != std::string::npos;
    });
}

/// The share of a spot's sky that the plate comes to hide, where it is the cause for the dark.
double hidden_by_plate(const BedForecast& bed, const Candidate& candidate,
                       const SiteAssessment& here) {
    const LightCulprit culprit = light_culprit(bed, candidate, here);
    return culprit.colony == 0 ? culprit.share : 0.0;
}

}  // namespace

TEST_CASE("free-living plates are suitable on the demo's sand, with a note to keep them off rock") {
    for (const char* id : {"fungia", "herpolitha-limax", "polyphyllia-talpina"}) {
        INFO(id);
        const SiteAssessment best = demo().over_bed(id).best;
        CHECK(best.does());
        CHECK(best.grain_m == Approx(0.0012));
        CHECK(says(demo().notes(id, best), "keep it on sand and off rock"));
        CHECK(says(demo().notes(id, best), "a month: fence it"));
    }
    const SiteAssessment fine = shelf_and_plate().at("fungia", 45.0, 40.0);
    CHECK_FALSE(fine.does());
    CHECK(says(shelf_and_plate().against("fungia", fine),
               "grain too fine for it: 0.3 mm, and it prefers 0.5 to 20 mm"));
}

TEST_CASE("tiny sand-walkers are suitable on fine sand") {
    for (const char* id : {"heteropsammia-cochlea", "diaseris-distorta"}) {
        INFO(id);
        const SiteAssessment fine = shelf_and_plate().at(id, 45.0, 40.0);
        CHECK(fine.does());
        CHECK(says(shelf_and_plate().notes(id, fine), "walks up to"));
        const SiteAssessment rubble = shelf_and_plate().at(id, 62.0, 38.0);
        CHECK(says(shelf_and_plate().against(id, rubble), "grain too coarse for it"));
    }
}

TEST_CASE("sand-embedding mats are suitable on sand where their relatives of clean rock are not") {
    const SiteAssessment embeds = demo().over_bed("palythoa").best;
    CHECK(embeds.does());
    CHECK(embeds.grain_m == Approx(0.0012));
    const SiteAssessment clean = shelf_and_plate().at("zoanthus", 45.0, 25.0);
    CHECK(shelf_and_plate().at("palythoa", 45.0, 25.0).holds);
    CHECK_FALSE(clean.does());
    CHECK(says(shelf_and_plate().against("zoanthus", clean), "it lives on rock or rubble"));
    CHECK(shelf_and_plate().at("zoanthus", 62.0, 38.0).does());
}

TEST_CASE(
    "fleshy solitary corals are suitable on sand, with a note that a dome is unsteady on rock") {
    for (const char* id :
         {"cynarina-lacrymalis", "homophyllia-australis", "lobophyllia-vitiensis"}) {
        INFO(id);
        const SiteAssessment best = demo().over_bed(id).best;
        CHECK(best.does());
        CHECK(says(demo().notes(id, best), "domed underside: steady on sand, unsteady on rock"));
        CHECK(says(demo().notes(id, best), "on the sand, not in it"));
    }
    CHECK(demo().over_bed("trachyphyllia-geoffroyi").best.does());
}

TEST_CASE("cone-based long-tentacled corals are suitable on either grain, better in flow") {
    const char* const id = "catalaphyllia-jardinei";
    const SiteAssessment best = demo().over_bed(id).best;
    CHECK(best.does());
    CHECK(says(demo().notes(id, best), "a ring of rubble or pipe holds it upright"));
    CHECK(says(demo().notes(id, best), "keep it where flow passes"));
    CHECK(shelf_and_plate().at(id, 45.0, 40.0).does());  // fine
    CHECK(shelf_and_plate().at(id, 56.0, 25.0).does());  // medium
    // The same kind where the least water passes and where the most does, of the spots that do.
    KindOnBed kind = shelf_and_plate().over_bed(id);
    SiteAssessment slow = kind.best, quick = kind.best;
    for (std::size_t cell = 0; cell < kind.marks.size(); ++cell) {
        if (kind.marks[cell].against != Against::nothing) continue;
        const BedForecast& bed = shelf_and_plate().ahead();
        const SiteAssessment here = at_site(bed, bed.site_m(cell), {kind.candidate}).front();
        if (here.flow_low_m_s < slow.flow_low_m_s) slow = here;
        if (here.flow_low_m_s > quick.flow_low_m_s) quick = here;
    }
    REQUIRE(quick.flow_low_m_s > 1.2 * slow.flow_low_m_s);
    CHECK(quick.criterion(Criterion::flow).worst > slow.criterion(Criterion::flow).worst);
    const auto clears_per_d = [&](const SiteAssessment& assessment) {
        return rejection_rate_per_d(kind.candidate.taxon, assessment.flow_low_m_s);
    };
    CHECK(clears_per_d(quick) > clears_per_d(slow));
}

TEST_CASE("a bowl has a note on the sand it keeps") {
    const char* const id = "turbinaria-peltata";
    const SiteAssessment rubble = shelf_and_plate().at(id, 62.0, 38.0);
    CHECK(says(shelf_and_plate().notes(id, rubble), "sand that falls in it stays"));
    const SiteAssessment sifted = shelf_and_plate().at(id, 45.0, 12.0);
    const SiteAssessment plate = shelf_and_plate().at("turbinaria-reniformis", 45.0, 12.0);
    CHECK(sifted.sand_kg_m2 > plate.sand_kg_m2);
}

TEST_CASE("tall leathers under rock are unsuitable because of it") {
    for (const char* id : {"sarcophyton", "sinularia"}) {
        INFO(id);
        const SiteAssessment under = shelf_and_plate().at(id, 77.0, 25.0);
        CHECK_FALSE(under.does());
        CHECK(under.criterion(Criterion::room).fails());
        CHECK(says(shelf_and_plate().against(id, under), "too tall for the rock above it"));
        const SiteAssessment open = shelf_and_plate().at(id, 62.0, 38.0);
        CHECK_FALSE(says(shelf_and_plate().against(id, open), "rock above"));
    }
}

TEST_CASE("fast phaceloid corals under other corals are unsuitable because of the one above") {
    for (const char* id : {"duncanopsammia-axifuga", "caulastraea-furcata"}) {
        INFO(id);
        const SiteAssessment under = shelf_and_plate().at(id, 28.0, 14.0);
        REQUIRE(under.taken == Taken::free);
        CHECK_FALSE(under.does());
        CHECK(says(shelf_and_plate().against(id, under), "it grows up under 'low plate'"));
    }
    const char* const grows = "caulastraea-furcata";
    const SiteAssessment later = shelf_and_plate().at(grows, 28.0, 14.0);
    CHECK(says(shelf_and_plate().against(grows, later), "the two touch from month"));
    CHECK(later.criterion(Criterion::reach).fails_from_d > 90.0);
}

TEST_CASE("pulsing soft corals stay put in fine sand, and spread on rubble") {
    const SiteAssessment fine = shelf_and_plate().at("xenia", 45.0, 40.0);
    CHECK_FALSE(fine.does());
    CHECK(says(shelf_and_plate().against("xenia", fine), "it stays on a rock laid on the sand"));
    CHECK(fine.end_diameter_m == Approx(0.05));
    const SiteAssessment rubble = shelf_and_plate().at("xenia", 62.0, 38.0);
    CHECK(rubble.does());
    CHECK(says(shelf_and_plate().notes("xenia", rubble), "spreads over this ground"));
    CHECK(rubble.end_diameter_m > 0.07);
}

TEST_CASE("a coral that infauna irritate is unsuitable where they live, and only there") {
    const char* const id = "trachyphyllia-geoffroyi";
    const SiteAssessment among = shelf_and_plate().at(id, 12.0, 38.0);
    CHECK_FALSE(among.does());
    CHECK(says(shelf_and_plate().against(id, among),
               "'bristle worms' live at the bases of corals here and irritate it"));
    CHECK(shelf_and_plate().at(id, 45.0, 25.0).irritated_by == -1);
    CHECK(shelf_and_plate().at("goniopora", 12.0, 38.0).irritated_by == -1);
}

TEST_CASE("light lost to a growing plate is attributed to it, from the month of the shortage") {
    const KindOnBed kind = demo().over_bed("fungia");
    const BedForecast& bed = demo().ahead();
    int by_growth = 0;
    for (std::size_t cell = 0; cell < kind.marks.size(); ++cell) {
        if (kind.marks[cell].against != Against::criterion ||
            kind.marks[cell].criterion != Criterion::light)
            continue;
        const SiteAssessment here = at_site(bed, bed.site_m(cell), {kind.candidate}).front();
        if (here.criterion(Criterion::light).fails_from_d < 120.0) continue;
        const auto against = demo().against("fungia", here);
        CHECK(says(against, "too little light from month "));
        by_growth += says(against, "because of 'ledge plate', which blocks") ? 1 : 0;
    }
    CHECK(by_growth > 0);
}

TEST_CASE("cutting a growing plate by the reported month restores the light") {
    const KindOnBed kind = demo().over_bed("fungia");
    const BedForecast& bed = demo().ahead();
    // Of the spots that have light enough for most of a year, until the plate hides a good
    // part of their sky, the one that then has least.
    std::optional<SiteAssessment> shaded;
    for (std::size_t cell = 0; cell < kind.marks.size(); ++cell) {
        if (kind.marks[cell].against != Against::criterion ||
            kind.marks[cell].criterion != Criterion::light)
            continue;
        const SiteAssessment here = at_site(bed, bed.site_m(cell), {kind.candidate}).front();
        const OverTime& light = here.criterion(Criterion::light);
        if (light.fails_from_d > 240.0 && hidden_by_plate(bed, kind.candidate, here) > 0.25 &&
            (!shaded || light.worst < shaded->criterion(Criterion::light).worst))
            shaded = here;
    }
    REQUIRE(shaded);
    const auto changes = changes_needed(bed, kind.candidate, *shaded);
    const OverTime& light = shaded->criterion(Criterion::light);
    const int month =
        last_month_before(std::min(light.fails_from_d - kDaysPerMonth, light.tight_from_d));
    CHECK(says(changes, "'ledge plate' cut back to 20 cm by month " + std::to_string(month)));

    Layout layout = bed.layout();
    layout.taxa.push_back(kind.candidate.taxon);
    layout.colonies.push_back(
        colony_of(kind.candidate, static_cast<int>(layout.taxa.size()) - 1, shaded->at_m));
    layout.colonies.back().attached = true;  // or it would walk off to where there is light
    const int disc = static_cast<int>(layout.colonies.size()) - 1;
    std::vector<Cut> cuts;
    for (int m = month; m <= layout.season.months; m += 2)  // it grows 5 mm a month
        cuts.push_back({0, first_day_of(m), layout.colonies[0].diameter_m});
    REQUIRE(layout.colonies[0].name == "ledge plate");
    const auto lacks_light = [&](const Layout& tank) {
        const auto run =
            evaluate_run(tank, {1, 0, calibrate(tank).output_scale}, run_serially, go_on);
        return std::any_of(run.flags.begin(), run.flags.end(), [&](const Flag& flag) {
            return flag.colony == disc &&
                   (flag.kind == FlagKind::light_short || flag.kind == FlagKind::starved);
        });
    };
    CHECK(lacks_light(layout));
    CHECK_FALSE(lacks_light(with_cuts(layout, cuts)));
}

TEST_CASE("every mention of a zoanthid has the palytoxin caution") {
    CHECK(handling_caution(demo().kind("palythoa").taxon).find("palytoxin") != std::string::npos);
    CHECK(handling_caution(demo().kind("zoanthus").taxon).find("palytoxin") != std::string::npos);
    CHECK(handling_caution(demo().kind("fungia").taxon).empty());
}
