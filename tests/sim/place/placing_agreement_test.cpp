// What `place` says of a spot against whole forecasts with the coral set there.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>

#include "sim/base/pool.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/place/placing.h"
#include "sim/run/calibration.h"
#include "sim/verdict/evaluated_run.h"

using namespace bedshade;

namespace {

const std::string kDemo = BEDSHADE_SOURCE_DIR "/scenarios/ledge_over_bed.toml";

bool go_on(double /*done*/) { return true; }

/// One verdict: a kind on a spot.
struct Verdict {
    Candidate candidate;
    SiteAssessment assessment;
    double worst() const { return worst_of(assessment).value; }
};

/// The layout with the coral set on its spot, last of all its colonies.
Layout with_coral(Layout layout, const Verdict& verdict, const Vec2& site_m) {
    layout.taxa.push_back(verdict.candidate.taxon);
    layout.colonies.push_back(
        colony_of(verdict.candidate, static_cast<int>(layout.taxa.size()) - 1, site_m));
    return layout;
}

/// A flag that the coral's size alone raises is no harm: it has grown as large as its kind does.
bool is_harm(const Flag& flag) {
    if (flag.kind != FlagKind::outgrown) return true;
    return std::any_of(flag.detail.begin(), flag.detail.end(), [](const auto& detail) {
        return detail.first != "diameter_cm" && detail.first != "at_size_limit" &&
               detail.second > 0.0;
    });
}

/// Whether the forecast raises a flag on the coral, or on another by it.
bool forecast_flags(const BedForecast& bed, const Verdict& verdict, const RunOptions& options,
                    const ParallelFor& parallel) {
    const Layout layout = with_coral(bed.layout(), verdict, verdict.assessment.at_m);
    const int coral = static_cast<int>(layout.colonies.size()) - 1;
    const EvaluatedRun run = evaluate_run(layout, options, parallel, go_on);
    return std::any_of(run.flags.begin(), run.flags.end(), [&](const Flag& flag) {
        const bool by_it = flag.culprit_kind == CulpritKind::colony && flag.culprit == coral;
        return is_harm(flag) && (flag.colony == coral || by_it);
    });
}

/// The best and the worst spot of every kind, by their worst margins, best first.
std::vector<Verdict> verdicts_of(const BedForecast& bed, const std::vector<Candidate>& candidates,
                                 const ParallelFor& parallel) {
    std::vector<Verdict> verdicts;
    for (const KindOnBed& kind : survey(bed, candidates, parallel, go_on)) {
        verdicts.push_back({kind.candidate, kind.best});
        if (kind.least) verdicts.push_back({kind.candidate, *kind.least});
    }
    std::stable_sort(verdicts.begin(), verdicts.end(),
                     [](const Verdict& a, const Verdict& b) { return a.worst() > b.worst(); });
    return verdicts;
}

std::string reported(const Verdict& verdict) {
    const Vec2& at = verdict.assessment.at_m;
    return fmt::format("{} at {:.1f},{:.1f} cm: {} {:.2f}", verdict.candidate.taxon.id,
                       100.0 * at.x(), 100.0 * at.y(),
                       to_string(worst_of(verdict.assessment).criterion), verdict.worst());
}

/// How many of the `count` best and of the `count` worst verdicts whole forecasts bear out.
std::pair<int, int> borne_out(const std::vector<Candidate>& candidates, int count) {
    const Layout layout = read_layout(kDemo).layout;
    const RunOptions options{1, 0, calibrate(layout).output_scale};
    Pool pool(allotted_processors());
    const BedForecast bed(layout, options, pool.parallel_for(), go_on);
    const auto verdicts = verdicts_of(bed, candidates, pool.parallel_for());
    std::pair<int, int> agree{0, 0};
    for (int i = 0; i < count; ++i) {
        const Verdict& best = verdicts[static_cast<std::size_t>(i)];
        const Verdict& worst = verdicts[verdicts.size() - 1 - static_cast<std::size_t>(i)];
        if (forecast_flags(bed, best, options, pool.parallel_for()))
            WARN("flagged, though one of the best: " << reported(best));
        else
            ++agree.first;
        if (forecast_flags(bed, worst, options, pool.parallel_for()))
            ++agree.second;
        else
            WARN("not flagged, though one of the worst: " << reported(worst));
    }
    return agree;
}

std::vector<Candidate> candidates_of(const std::vector<std::string>& kinds) {
    const TraitTable table = builtin_traits();
    std::vector<Candidate> candidates;
    for (const Taxon& taxon : table.taxa())
        if (kinds.empty() || std::find(kinds.begin(), kinds.end(), taxon.id) != kinds.end())
            candidates.push_back(candidate_of(taxon));
    return candidates;
}

}  // namespace

TEST_CASE("full runs confirm the best and the worst sites of a few kinds") {
    const auto [best, worst] =
        borne_out(candidates_of({"cynarina-lacrymalis", "acropora-hyacinthus"}), 1);
    CHECK(best == 1);
    CHECK(worst == 1);
}

TEST_CASE("full runs confirm the twenty best and the twenty worst verdicts", "[.][long]") {
    const auto [best, worst] = borne_out(candidates_of({}), 20);
    INFO("best " << best << " of 20, worst " << worst << " of 20");
    CHECK(best >= 18);
    CHECK(worst >= 18);
}
