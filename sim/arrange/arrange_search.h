// The search for better positions, one coral at a time.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "sim/arrange/arrange.h"

namespace bedshade {

class ArrangeSearch {
  public:
    /// Keeps references, which must outlive it.
    ArrangeSearch(const Layout& layout, const ArrangeOptions& options, const ParallelFor& parallel,
                  RunBudget& work);

    /// Searches until the forecasts are used up or nothing is left to try.
    void run();

    const Layout& best() const { return best_; }
    const Score& score() const { return score_; }  ///< of the best
    const Score& score_as_given() const { return given_; }
    int forecasts() const { return forecasts_; }
    HeldBack held_back() const;

  private:
    /// One coral's sites as a global search over the floor sees them.
    struct SiteTrials;

    bool may_go_on() const { return !work_.stopped() && forecasts_ < options_.forecasts; }
    bool may_move(int colony) const;
    int worst_but(const Score& score, const std::set<int>& but) const;
    Score score_of(const Layout& layout);
    double objective(const Score& score) const;
    bool better_place(int subject, int mover);
    bool take_best(SiteTrials& tries, double before);
    std::optional<double> mean_of_others(const Layout& layout);
    double enough_for(int subject) const;
    const std::vector<double>& guesses(const SiteTrials& tries);
    void try_guessed(SiteTrials& tries);
    void search_floor(SiteTrials& tries) const;
    double try_site(SiteTrials& tries, std::size_t site);

    const ArrangeOptions& options_;
    const ParallelFor& parallel_;
    RunBudget& work_;
    Layout best_;
    Score score_, given_;
    std::set<int> exhausted_;              // colonies without a better site
    std::map<int, int> tries_;             // without success, by the colony they were to help
    std::map<std::string, Score> scores_;  // by the name of its run
    std::map<std::string, double> others_;
    std::map<std::string, std::vector<double>> guesses_;
    int forecasts_ = 0;
};

}  // namespace bedshade
