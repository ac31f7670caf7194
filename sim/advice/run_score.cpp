#include "sim/advice/run_score.h"

namespace bedshade {
namespace {

/// Who takes most of a colony's light on its darkest day.
class ShadeTracker final : public SnapshotSink {
  public:
    explicit ShadeTracker(std::size_t colonies) : darkest_(colonies, kNoLimit), by_(colonies, -1) {}

    void take(const Snapshot& snapshot) override {
        for (std::size_t i = 0; i < by_.size(); ++i) {
            const ColonyObservation& found = snapshot.colonies[i];
            if (found.shade_by.empty() || found.need_dli_mol_m2_d <= 0.0) continue;
            const double margin = found.dli_mol_m2_d / found.need_dli_mol_m2_d;
            if (margin >= darkest_[i]) continue;
            darkest_[i] = margin;
            by_[i] = found.shade_by.front().colony;
        }
    }
    /// -1: nobody.
    int of(std::size_t colony) const { return by_[colony]; }

  private:
    std::vector<double> darkest_;  // light over need
    std::vector<int> by_;
};

}  // namespace

Score run_score(const Layout& layout, const RunOptions& options, const ParallelFor& parallel,
                const GoOn& go_on) {
    ShadeTracker shade(layout.colonies.size());
    const EvaluatedRun evaluated = evaluate_member(layout, options, parallel, go_on, {&shade});
    Score score;
    for (std::size_t i = 0; i < evaluated.margins.size(); ++i) {
        const WorstMargin worst = worst_of(evaluated.margins[i]);
        score.colonies.push_back(worst);
        score.end_diameter_m.push_back(evaluated.colonies[i].end_diameter_m);
        score.cause_of.push_back(worst.kind == MarginKind::light   ? shade.of(i)
                                 : worst.kind == MarginKind::reach ? evaluated.margins[i].neighbour
                                                                   : -1);
        if (worst.value < score.value()) score.worst = static_cast<int>(i);
    }
    return score;
}

}  // namespace bedshade
