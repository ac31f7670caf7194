#include "sim/place/placing.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <tuple>

#include "model/base/argsort.h"

#include "sim/place/site_model.h"

namespace bedshade {
namespace {

using nlohmann::ordered_json;

/// The order of sites of one kind, greater is better: suitable, ground suits, worst margin.
using Rank = std::tuple<bool, bool, bool, double>;

Rank rank_of(const SiteAssessment& assessment) {
    const bool welcome = assessment.holds && assessment.irritated_by < 0;
    return {assessment.does(), assessment.taken == Taken::free, welcome,
            worst_of(assessment).value};
}

SiteMark mark_of(const SiteAssessment& assessment) {
    const WorstCriterion worst = worst_of(assessment);
    const Against against = assessment.taken != Taken::free ? Against::taken
                            : !assessment.holds             ? Against::ground
                            : assessment.irritated_by >= 0  ? Against::infauna
                            : assessment.does()             ? Against::nothing
                                                            : Against::criterion;
    return {against, worst.criterion, static_cast<float>(worst.value)};
}

/// Counts a kind's cells and assesses its best and its worst again.
void sum_up(const BedForecast& bed, const std::vector<Rank>& ranks, KindOnBed& kind) {
    const std::size_t cells = ranks.size();
    std::size_t best = cells, least = cells;
    for (std::size_t cell = 0; cell < cells; ++cell) {
        if (!bed.is_open_sand(cell)) continue;
        ++kind.open_cells;
        const SiteMark& mark = kind.marks[cell];
        kind.does_cells += mark.against == Against::nothing ? 1 : 0;
        if (best == cells || ranks[cell] > ranks[best]) best = cell;
        if (mark.against != Against::taken &&
            (least == cells || mark.worst < kind.marks[least].worst))
            least = cell;
    }
    kind.best.taken = Taken::by_rock;  // where no cell is sand
    if (best < cells) kind.best = at_site(bed, bed.site_m(best), {kind.candidate}).front();
    if (least < cells) kind.least = at_site(bed, bed.site_m(least), {kind.candidate}).front();
}

/// All kinds on all cells, assessed in blocks of cells.
class Survey {
  public:
    Survey(const BedForecast& bed, const std::vector<Candidate>& candidates)
        : bed_(bed),
          candidates_(candidates),
          cells_(bed.grid().size()),
          search_radius_m_(search_radius_of(bed, candidates)),
          kinds_(candidates.size()),
          ranks_(candidates.size(), std::vector<Rank>(cells_)) {
        for (std::size_t k = 0; k < candidates.size(); ++k) {
            kinds_[k].candidate = candidates[k];
            kinds_[k].marks.resize(cells_);
        }
    }

    void judge(std::size_t from, std::size_t to, const ParallelFor& parallel) {
        parallel(to - from, [&](std::size_t begin, std::size_t end) {
            for (std::size_t cell = from + begin; cell < from + end; ++cell) judge_cell(cell);
        });
    }
    ordered_json cells_json(std::size_t from, std::size_t to) const {
        auto all = ordered_json::array();
        for (std::size_t cell = from; cell < to; ++cell)
            for (std::size_t k = 0; k < kinds_.size() && bed_.is_open_sand(cell); ++k) {
                const auto& [does, free, welcome, worst] = ranks_[k][cell];
                const SiteMark& mark = kinds_[k].marks[cell];
                all.push_back({does, free, welcome, json_of_number(worst),
                               static_cast<int>(mark.against), static_cast<int>(mark.criterion)});
            }
        return all;
    }
    void take_json(const ordered_json& all, std::size_t from, std::size_t to) {
        std::size_t next = 0;
        for (std::size_t cell = from; cell < to; ++cell)
            for (std::size_t k = 0; k < kinds_.size() && bed_.is_open_sand(cell); ++k) {
                const ordered_json& one = all.at(next++);
                const double worst = number_from_json(one.at(3));
                ranks_[k][cell] = {one.at(0), one.at(1), one.at(2), worst};
                kinds_[k].marks[cell] = {static_cast<Against>(one.at(4).get<int>()),
                                         static_cast<Criterion>(one.at(5).get<int>()),
                                         static_cast<float>(worst)};
            }
    }
    /// What the cells are called in the cache.
    std::string name(std::size_t from, std::size_t to) const {
        std::string name = fmt::format("cells {} to {} for", from, to);
        for (const Candidate& candidate : candidates_)
            name += fmt::format(" {} of {} m,", candidate.taxon.id, candidate.diameter_m);
        return name;
    }
    std::vector<KindOnBed> finish() {
        for (std::size_t k = 0; k < kinds_.size(); ++k) sum_up(bed_, ranks_[k], kinds_[k]);
        return std::move(kinds_);
    }
    std::size_t cells() const { return cells_; }

  private:
    void judge_cell(std::size_t cell) {
        if (!bed_.is_open_sand(cell)) return;
        const Site site = site_of(bed_, bed_.site_m(cell), search_radius_m_);
        for (std::size_t k = 0; k < candidates_.size(); ++k) {
            const SiteAssessment assessment = assess_site(bed_, site, candidates_[k]);
            ranks_[k][cell] = rank_of(assessment);
            kinds_[k].marks[cell] = mark_of(assessment);
        }
    }

    const BedForecast& bed_;
    const std::vector<Candidate>& candidates_;
    std::size_t cells_;
    double search_radius_m_;
    std::vector<KindOnBed> kinds_;
    std::vector<std::vector<Rank>> ranks_;  // [kind][cell]
};

}  // namespace

std::vector<KindOnBed> survey(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const ParallelFor& parallel, const GoOn& go_on, ResultCache& cache) {
    constexpr std::size_t kAtOnce = 256;  // cells between two questions whether to continue
    Survey survey(bed, candidates);
    const std::size_t cells = survey.cells();
    for (std::size_t from = 0; from < cells; from += kAtOnce) {
        if (!go_on(static_cast<double>(from) / static_cast<double>(cells))) return {};
        const std::size_t to = std::min(from + kAtOnce, cells);
        const auto to_its_end = [](double) { return true; };
        survey.take_json(cache.recall(survey.name(from, to), to_its_end,
                                      [&](const GoOn&) {
                                          survey.judge(from, to, parallel);
                                          return survey.cells_json(from, to);
                                      }),
                         from, to);
    }
    return survey.finish();
}

std::vector<KindOnBed> survey(const BedForecast& bed, const std::vector<Candidate>& candidates,
                              const ParallelFor& parallel, const GoOn& go_on) {
    ResultCache none;
    return survey(bed, candidates, parallel, go_on, none);
}

std::vector<SiteAssessment> at_site(const BedForecast& bed, const Vec2& at_m,
                                    const std::vector<Candidate>& candidates) {
    const Site site = site_of(bed, at_m, search_radius_of(bed, candidates));
    std::vector<SiteAssessment> assessments;
    assessments.reserve(candidates.size());
    for (const Candidate& candidate : candidates)
        assessments.push_back(assess_site(bed, site, candidate));
    return assessments;
}

std::vector<std::size_t> reporting_order(const std::vector<SiteAssessment>& assessments) {
    return argsort(assessments.size(), [&](std::size_t a, std::size_t b) {
        return rank_of(assessments[a]) > rank_of(assessments[b]);
    });
}

std::vector<std::size_t> reporting_order(const std::vector<KindOnBed>& kinds) {
    return argsort(kinds.size(), [&](std::size_t a, std::size_t b) {
        return rank_of(kinds[a].best) > rank_of(kinds[b].best);
    });
}

}  // namespace bedshade
