#include "sim/arrange/arrange_search.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <nlopt.hpp>

#include "model/base/argsort.h"

#include "sim/advice/result_json.h"
#include "sim/arrange/site_surrogate.h"

namespace bedshade {
namespace {

constexpr double kGain = 0.01;     // of a margin: less is no gain
constexpr int kGuessedTries = 4;   // of the sites estimated to be best
constexpr double kApart_m = 0.06;  // those are apart by: two beside each other teach little
constexpr int kTriesAtMost = 12;   // forecasts for one coral at a time
constexpr int kMostEvaluations =
    1000;                      // of the global search, most of sites that are known already
constexpr int kOthers = 3;     // members beside the best estimate that a move must not harm
constexpr double kLost = 2.0;  // a margin of those: beyond this one is as lost as another
constexpr std::size_t kMostChecked = 2;  // moves of one coral that they are run for

}  // namespace

struct ArrangeSearch::SiteTrials {
    struct Found {
        double value, own_value;  // the mover's own decides between equals
        Layout layout;
        Score score;
    };
    ArrangeSearch& search;
    int mover = 0;
    std::vector<StandingSite> sites;      // free of neighbours
    std::map<std::size_t, double> known;  // objective by site
    double enough = 0.0;
    double best_value = 0.0;
    std::vector<Found> found;  // better than before
    int forecasts = 0;

    bool done() const {
        return best_value >= enough || forecasts >= kTriesAtMost || !search.may_go_on() ||
               known.size() == sites.size();
    }
    static double ask(const std::vector<double>& floor, std::vector<double>&, void* tries) {
        auto& self = *static_cast<SiteTrials*>(tries);
        if (self.done()) throw nlopt::forced_stop();
        const Tank& tank = self.search.best_.tank;
        return self.search.try_site(
            self, self.nearest(Vec2(floor[0] * tank.length_m, floor[1] * tank.width_m)));
    }
    std::size_t nearest(const Vec2& at_m) const;
};

/// The site nearest in plan; of several above one another the topmost.
std::size_t ArrangeSearch::SiteTrials::nearest(const Vec2& at_m) const {
    std::size_t nearest = 0;
    double least_m = kNoLimit;
    for (std::size_t i = 0; i < sites.size(); ++i) {
        const double away_m = (sites[i].at_m.head<2>() - at_m).norm();
        const bool above = away_m == least_m && sites[i].at_m.z() > sites[nearest].at_m.z();
        if (away_m >= least_m && !above) continue;
        least_m = away_m;
        nearest = i;
    }
    return nearest;
}

ArrangeSearch::ArrangeSearch(const Layout& layout, const ArrangeOptions& options,
                             const ParallelFor& parallel, RunBudget& work)
    : options_(options), parallel_(parallel), work_(work), best_(layout) {}

bool ArrangeSearch::may_move(int colony) const {
    return std::find(options_.movable.begin(), options_.movable.end(), colony) !=
           options_.movable.end();
}

/// The colony worst off but for those let be and `but`; -1 where none is left with a limit.
int ArrangeSearch::worst_but(const Score& score, const std::set<int>& but) const {
    int worst = -1;
    double least = kNoLimit;
    for (std::size_t i = 0; i < score.colonies.size(); ++i) {
        const int colony = static_cast<int>(i);
        if (but.count(colony) > 0 || exhausted_.count(colony) > 0 ||
            score.colonies[i].value >= least)
            continue;
        least = score.colonies[i].value;
        worst = colony;
    }
    return worst;
}

/// Of the best estimate; a layout that was scored before takes no forecast.
Score ArrangeSearch::score_of(const Layout& layout) {
    const RunOptions run_options{options_.seed, 0, options_.output_scale};
    const auto found = scores_.try_emplace(run_name(layout, run_options));
    const auto known = found.first;  // no structured binding: clang 14 lets no lambda have one
    if (!found.second) return known->second;
    work_.run_alone([&](std::size_t, const GoOn& go_on) {
        known->second = recalled_score(work_.cache(), layout, run_options, parallel_, go_on);
    });
    ++forecasts_;
    return known->second;
}

/// The margin of the colony worst off; below what it was where one that was let be is worse off.
double ArrangeSearch::objective(const Score& score) const {
    const int worst = worst_but(score, {});
    double value =
        worst < 0 ? kMostReported : score.colonies[static_cast<std::size_t>(worst)].value;
    for (const int colony : exhausted_) {
        const auto i = static_cast<std::size_t>(colony);
        const double lost = score_.colonies[i].value - score.colonies[i].value;
        if (lost > kGain) value = std::min(value, score_.colonies[i].value - lost);
    }
    return std::clamp(value, -kMostReported, kMostReported);
}

void ArrangeSearch::run() {
    given_ = score_ = score_of(best_);
    while (may_go_on()) {
        const int subject = worst_but(score_, {});
        if (subject < 0) return;
        const int cause = score_.cause_of[static_cast<std::size_t>(subject)];
        if (!better_place(subject, subject) && !better_place(subject, cause))
            exhausted_.insert(subject);
    }
}

HeldBack ArrangeSearch::held_back() const {
    const auto tries = tries_.find(score_.worst);
    return {score_.worst, tries == tries_.end() ? 0 : tries->second};
}

/// What makes another the one worst off. Two that stand in each other's way gain together.
double ArrangeSearch::enough_for(int subject) const {
    const auto i = static_cast<std::size_t>(subject);
    std::set<int> gaining = {subject};
    if (score_.colonies[i].kind == MarginKind::reach) gaining.insert(score_.cause_of[i]);
    const int next = worst_but(score_, gaining);
    return next < 0
               ? kMostReported
               : std::min(kMostReported, score_.colonies[static_cast<std::size_t>(next)].value);
}

/// Moves a coral so that the subject is better off; false when no site does that.
bool ArrangeSearch::better_place(int subject, int mover) {
    if (!may_move(mover) || !may_go_on()) return false;
    SiteTrials tries{*this, mover, {}, {}, kMostReported, objective(score_), {}, 0};
    for (const StandingSite& site : standing_sites(best_, mover))
        if (is_free_of_neighbours(best_, mover, site)) tries.sites.push_back(site);
    if (tries.sites.empty()) return false;
    const double before = tries.best_value;
    // Two that are as badly off: either's gain is a gain.
    tries.enough = std::max(enough_for(subject), before + kGain);
    try_guessed(tries);
    if (tries.best_value < before + kGain) search_floor(tries);
    if (take_best(tries, before)) return true;
    tries_[subject] += tries.forecasts;
    return false;
}

/// Takes the best of the moves found that gains enough and does other members no harm.
bool ArrangeSearch::take_best(SiteTrials& tries, double before) {
    std::stable_sort(tries.found.begin(), tries.found.end(), [](const auto& a, const auto& b) {
        return a.value != b.value ? a.value > b.value : a.own_value > b.own_value;
    });
    std::size_t checked = 0;
    for (SiteTrials::Found& found : tries.found) {
        if (found.value < before + kGain || checked++ == kMostChecked) break;
        const auto now = mean_of_others(best_), then = mean_of_others(found.layout);
        if (work_.stopped() || !now || !then || *then < *now) continue;
        best_ = std::move(found.layout);
        score_ = std::move(found.score);
        return true;
    }
    return false;
}

/// Mean of the worst margins of members other than the best estimate, by the search's seed;
/// nothing where there are no forecasts left for that.
std::optional<double> ArrangeSearch::mean_of_others(const Layout& layout) {
    const std::string called = run_name(layout, {options_.seed, 1, options_.output_scale});
    const auto known = others_.find(called);
    if (known != others_.end()) return known->second;
    if (work_.stopped() || forecasts_ + kOthers > options_.forecasts) return std::nullopt;
    std::vector<double> values(kOthers);
    work_.run(values.size(), [&](std::size_t i, const GoOn& go_on) {
        const RunOptions run_options{options_.seed, static_cast<int>(i) + 1, options_.output_scale};
        values[i] = recalled_score(work_.cache(), layout, run_options, run_serially, go_on).value();
    });
    forecasts_ += kOthers;
    double sum = 0.0;
    for (const double value : values) sum += std::clamp(value, -kLost, kLost);
    return others_[called] = sum / kOthers;
}

/// One run without the moved coral serves all estimates of its sites.
const std::vector<double>& ArrangeSearch::guesses(const SiteTrials& tries) {
    const RunOptions options{options_.seed, 0, options_.output_scale};
    const auto mover = static_cast<std::size_t>(tries.mover);
    const double end_m = std::max(score_.end_diameter_m[mover], best_.colonies[mover].diameter_m);
    const std::string called =
        fmt::format("guesses for {}, {} m, {}", tries.mover, end_m, run_name(best_, options));
    const auto found = guesses_.try_emplace(called);
    const auto known = found.first;
    if (!found.second) return known->second;
    const auto runner = [&](const GoOn& go_on) {
        return json_of_numbers(
            estimate_margins(best_, tries.mover, tries.sites, end_m, options, parallel_, go_on));
    };
    work_.run_alone([&](std::size_t, const GoOn& go_on) {
        known->second = numbers_from_json(work_.cache().recall(called, go_on, runner));
    });
    ++forecasts_;
    return known->second;
}

/// SiteTrials the most promising sites, the best first and apart from each other.
void ArrangeSearch::try_guessed(SiteTrials& tries) {
    const std::vector<double>& guessed = guesses(tries);
    const auto order = argsort(
        tries.sites.size(), [&](std::size_t a, std::size_t b) { return guessed[a] > guessed[b]; });
    std::vector<std::size_t> tried;
    for (const std::size_t site : order) {
        if (!may_go_on() || tried.size() >= kGuessedTries) return;
        const bool new_ground = std::all_of(tried.begin(), tried.end(), [&](std::size_t other) {
            return (tries.sites[other].at_m - tries.sites[site].at_m).norm() >= kApart_m;
        });
        if (!new_ground) continue;
        tried.push_back(site);
        try_site(tries, site);
    }
}

void ArrangeSearch::search_floor(SiteTrials& tries) const {
    nlopt::opt search(nlopt::GN_DIRECT_L, 2);
    search.set_lower_bounds(0.0);
    search.set_upper_bounds(1.0);
    search.set_maxeval(kMostEvaluations);
    search.set_max_objective(&SiteTrials::ask, &tries);
    std::vector<double> floor = {0.5, 0.5};
    double value = 0.0;
    try {
        search.optimize(floor, value);
    } catch (const nlopt::forced_stop&) {
        // Enough was found, or the forecasts are used up.
    }
}

double ArrangeSearch::try_site(SiteTrials& tries, std::size_t site) {
    const auto known = tries.known.find(site);
    if (known != tries.known.end()) return known->second;
    const auto mover = static_cast<std::size_t>(tries.mover);
    Layout layout = best_;
    set_down(layout.colonies[mover], tries.sites[site]);
    const Score score = score_of(layout);
    ++tries.forecasts;
    const double value = objective(score), own = score.colonies[mover].value;
    tries.known.emplace(site, value);
    if (!work_.stopped() && value > objective(score_)) {
        tries.best_value = std::max(tries.best_value, value);
        tries.found.push_back({value, own, std::move(layout), score});
    }
    return value;
}

}  // namespace bedshade
