#include "sim/arrange/arrange.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <utility>

#include "model/base/random.h"

#include "sim/advice/result_json.h"
#include "sim/arrange/arrange_search.h"

namespace bedshade {
namespace {

/// Sets all that may be moved down at random, one after the other, clear of those before.
class RandomLayouts {
  public:
    RandomLayouts(const Layout& layout, const std::vector<int>& movable)
        : layout_(layout), movable_(movable) {
        for (const int colony : movable) sites_.push_back(standing_sites(layout, colony));
    }

    Layout draw(std::uint64_t seed, std::uint32_t attempt) const {
        Layout shuffled = layout_;
        // Far outside, where none is in another's way until it has been set down.
        for (const int colony : movable_)
            shuffled.colonies[static_cast<std::size_t>(colony)].position_m = Vec3(-1e3, -1e3, 0.0);
        for (std::size_t m = 0; m < movable_.size(); ++m) {
            const int colony = movable_[m];
            RandomStream random(seed, attempt, Process::permutation, 0,
                                static_cast<std::uint32_t>(colony));
            set_down(shuffled.colonies[static_cast<std::size_t>(colony)],
                     a_free_site(shuffled, colony, sites_[m], random));
        }
        return shuffled;
    }

  private:
    /// Any of the free ones; its own as set where there is none.
    static StandingSite a_free_site(const Layout& shuffled, int colony,
                                    const std::vector<StandingSite>& sites, RandomStream& random) {
        std::vector<std::size_t> free;
        for (std::size_t i = 0; i < sites.size(); ++i)
            if (is_free_of_neighbours(shuffled, colony, sites[i])) free.push_back(i);
        if (free.empty()) return sites.front();
        const double count = static_cast<double>(free.size());
        const auto chosen = static_cast<std::size_t>(random.uniform() * count);
        return sites[free[std::min(chosen, free.size() - 1)]];
    }

    const Layout& layout_;
    const std::vector<int>& movable_;
    std::vector<std::vector<StandingSite>> sites_;  // as movable_
};

std::vector<double> random_layout_values(const Layout& layout, const ArrangeOptions& options,
                                         int count, RunBudget& work) {
    const RandomLayouts random_layouts(layout, options.movable);
    std::vector<double> values(static_cast<std::size_t>(count));
    work.run(values.size(), [&](std::size_t i, const GoOn& go_on) {
        const Layout shuffled = random_layouts.draw(options.seed, static_cast<std::uint32_t>(i));
        const RunOptions run_options{options.seed, 0, options.output_scale};
        values[i] =
            recalled_score(work.cache(), shuffled, run_options, run_serially, go_on).value();
    });
    return values;
}

/// Both layouts on members 1 to `fresh` of the next seed.
std::vector<ScorePair> fresh_scores(const Layout& given, const Layout& arranged,
                                    const ArrangeOptions& options, RunBudget& work) {
    std::vector<ScorePair> scores(static_cast<std::size_t>(options.fresh));
    work.run(2 * scores.size(), [&](std::size_t i, const GoOn& go_on) {
        const std::size_t pair = i / 2;
        const RunOptions run_options{options.seed + 1, static_cast<int>(pair) + 1,
                                     options.output_scale};
        const bool first = i % 2 == 0;
        (first ? scores[pair].given : scores[pair].arranged) = recalled_score(
            work.cache(), first ? given : arranged, run_options, run_serially, go_on);
    });
    return scores;
}

/// Both layouts' best estimates with the step halved.
ScorePair fine_scores(Layout given, Layout arranged, const ArrangeOptions& options,
                      RunBudget& work) {
    given.season.step_d *= 0.5;
    arranged.season.step_d *= 0.5;
    ScorePair scores;
    const RunOptions run_options{options.seed, 0, options.output_scale};
    work.run(2, [&](std::size_t i, const GoOn& go_on) {
        (i == 0 ? scores.given : scores.arranged) = recalled_score(
            work.cache(), i == 0 ? given : arranged, run_options, run_serially, go_on);
    });
    return scores;
}

std::vector<Moved> moves_between(const Layout& given, const Layout& arranged) {
    std::vector<Moved> moved;
    for (std::size_t i = 0; i < given.colonies.size(); ++i) {
        const StandingSite from = baseline_site(given.colonies[i]),
                           to = baseline_site(arranged.colonies[i]);
        if (!(from == to)) moved.push_back({static_cast<int>(i), from, to});
    }
    return moved;
}

}  // namespace

PairedGain paired_gain(const std::vector<ScorePair>& pairs) {
    const auto count = static_cast<double>(pairs.size());
    double sum = 0.0, squares = 0.0;
    std::vector<double> gains;
    gains.reserve(pairs.size());
    for (const ScorePair& pair : pairs)
        gains.push_back(std::clamp(pair.arranged.value(), -kMostReported, kMostReported) -
                        std::clamp(pair.given.value(), -kMostReported, kMostReported));
    for (const double gain : gains) sum += gain;
    const double mean = sum / count;
    for (const double gain : gains) squares += (gain - mean) * (gain - mean);
    const double error = std::sqrt(squares / (count - 1.0) / count);
    const double t = boost::math::quantile(boost::math::students_t(count - 1.0), 0.95);
    return {mean, mean - t * error, mean + t * error};
}

double work_of_arranging(const ArrangeOptions& options) {
    constexpr double kFine = 2.0;
    return 2.0 * (options.forecasts + options.fresh) + kFine;
}

ArrangeAdvice arrange(const Layout& layout, const ArrangeOptions& options,
                      const ParallelFor& parallel, RunBudget& work) {
    ArrangeAdvice advice;
    ArrangeSearch search(layout, options, parallel, work);
    search.run();
    advice.arranged = search.best();
    advice.moved = moves_between(layout, advice.arranged);
    advice.best_estimate = {search.score_as_given(), search.score()};
    advice.held_back = search.held_back();
    advice.searched = search.forecasts();
    if (!work.stopped())
        advice.at_random = random_layout_values(layout, options, advice.searched, work);
    if (!work.stopped()) advice.fresh = fresh_scores(layout, advice.arranged, options, work);
    if (!work.stopped()) advice.fine = fine_scores(layout, advice.arranged, options, work);
    advice.work = work.done();
    advice.finished = !work.stopped();
    return advice;
}

}  // namespace bedshade
