#include "sim/advice/arrange_search.h"

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace bedshade {
namespace {

constexpr double kGain = 0.01;     // of a margin: less is no gain
constexpr int kTriesAtMost = 20;   // forecasts for one coral at a time
constexpr int kAsksAtMost = 1000;  // of the global search, most of spots that are known already
constexpr double kMostMargin = 20.0;

}  // namespace

struct ArrangeSearch::Tries {
    ArrangeSearch& search;
    int mover = 0;
    std::vector<StandingSpot> spots;      // free of neighbours
    std::map<std::size_t, double> known;  // objective by spot
    double enough = 0.0;
    double best_value = 0.0;
    Layout best;
    Score best_score;
    int forecasts = 0;

    bool done() const {
        return best_value >= enough || forecasts >= kTriesAtMost || !search.may_go_on() ||
               known.size() == spots.size();
    }
    static double ask(const std::vector<double>& floor, std::vector<double>&, void* tries) {
        auto& self = *static_cast<Tries*>(tries);
        if (self.done()) throw nlopt::forced_stop();
        return self.search.try_spot(self, floor[0], floor[1]);
    }
    std::size_t nearest(const Vec2& at_m) const;
};

/// The spot nearest in plan; of several above one another the topmost.
std::size_t ArrangeSearch::Tries::nearest(const Vec2& at_m) const {
    std::size_t nearest = 0;
    double least_m = kNoLimit;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const double away_m = (spots[i].at_m.head<2>() - at_m).norm();
        const bool above = away_m == least_m && spots[i].at_m.z() > spots[nearest].at_m.z();
        if (away_m >= least_m && !above) continue;
        least_m = away_m;
        nearest = i;
    }
    return nearest;
}

ArrangeSearch::ArrangeSearch(const Layout& layout, const ArrangeOptions& options,
                             const ParallelFor& parallel, Workload& work)
    : options_(options), parallel_(parallel), work_(work), best_(layout) {}

bool ArrangeSearch::may_move(int colony) const {
    return std::find(options_.movable.begin(), options_.movable.end(), colony) !=
           options_.movable.end();
}

/// The colony worst off but for those let be and `but`; -1 where none is left with a limit.
int ArrangeSearch::worst_but(const Score& score, int but) const {
    int worst = -1;
    double least = kNoLimit;
    for (std::size_t i = 0; i < score.colonies.size(); ++i) {
        const int colony = static_cast<int>(i);
        if (colony == but || let_be_.count(colony) > 0 || score.colonies[i].value >= least)
            continue;
        least = score.colonies[i].value;
        worst = colony;
    }
    return worst;
}

Score ArrangeSearch::score_of(const Layout& layout) {
    Score score;
    const ForecastOptions season{options_.seed, 0, options_.output_scale};
    work_.run_alone([&](std::size_t, const GoOn& go_on) {
        score = season_score(layout, season, parallel_, go_on);
        go_on(1.0);
    });
    ++forecasts_;
    return score;
}

/// The margin of the colony worst off; below what it was where one that was let be is worse off.
double ArrangeSearch::objective(const Score& score) const {
    const int worst = worst_but(score, -1);
    double value = worst < 0 ? kMostMargin : score.colonies[static_cast<std::size_t>(worst)].value;
    for (const int colony : let_be_) {
        const auto i = static_cast<std::size_t>(colony);
        const double lost = score_.colonies[i].value - score.colonies[i].value;
        if (lost > kGain) value = std::min(value, score_.colonies[i].value - lost);
    }
    return std::clamp(value, -kMostMargin, kMostMargin);
}

void ArrangeSearch::run() {
    given_ = score_ = score_of(best_);
    while (may_go_on()) {
        const int subject = worst_but(score_, -1);
        if (subject < 0) return;
        const int blamed = score_.to_blame[static_cast<std::size_t>(subject)];
        if (!better_place(subject, subject) && !better_place(subject, blamed))
            let_be_.insert(subject);
    }
}

/// Moves a coral so that the subject is better off; false when no spot does that.
bool ArrangeSearch::better_place(int subject, int mover) {
    if (!may_move(mover) || !may_go_on()) return false;
    Tries tries{*this, mover, {}, {}, kMostMargin, objective(score_), best_, score_, 0};
    for (const StandingSpot& spot : standing_spots(best_, mover))
        if (is_free_of_neighbours(best_, mover, spot)) tries.spots.push_back(spot);
    if (tries.spots.empty()) return false;
    const double before = tries.best_value;
    const int next = worst_but(score_, subject);
    if (next >= 0)
        tries.enough = std::min(kMostMargin, score_.colonies[static_cast<std::size_t>(next)].value);
    // Two that are as badly off: either's gain is a gain.
    tries.enough = std::max(tries.enough, before + kGain);
    search_floor(tries);
    if (work_.stopped() || tries.best_value < before + kGain) return false;
    best_ = std::move(tries.best);
    score_ = std::move(tries.best_score);
    return true;
}

void ArrangeSearch::search_floor(Tries& tries) const {
    nlopt::opt search(nlopt::GN_DIRECT_L, 2);
    search.set_lower_bounds(0.0);
    search.set_upper_bounds(1.0);
    search.set_maxeval(kAsksAtMost);
    search.set_max_objective(&Tries::ask, &tries);
    std::vector<double> floor = {0.5, 0.5};
    double value = 0.0;
    try {
        search.optimize(floor, value);
    } catch (const nlopt::forced_stop&) {
        // Enough was found, or the forecasts are used up.
    }
}

double ArrangeSearch::try_spot(Tries& tries, double x_share, double y_share) {
    const Tank& tank = best_.tank;
    const std::size_t spot = tries.nearest(Vec2(x_share * tank.length_m, y_share * tank.width_m));
    const auto known = tries.known.find(spot);
    if (known != tries.known.end()) return known->second;
    Layout layout = best_;
    set_down(layout.colonies[static_cast<std::size_t>(tries.mover)], tries.spots[spot]);
    const Score score = score_of(layout);
    ++tries.forecasts;
    const double value = objective(score);
    tries.known.emplace(spot, value);
    if (!work_.stopped() && value > tries.best_value) {
        tries.best_value = value;
        tries.best = std::move(layout);
        tries.best_score = score;
    }
    return value;
}

}  // namespace bedshade
