#include "sim/advice/trim_search.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/advice/cut_flags.h"
#include "sim/season/calendar.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {
namespace {

constexpr double kGrid_m = 0.005;  // sizes are told in half centimetres
/// Trouble this soon after a cut was on its way when it was made: light is judged by the month,
/// sweepers take another to draw back.
constexpr double kOnItsWay_d = 2.0 * kDaysPerMonth;
/// Members asked at once; the same for any number of threads, so that results are too.
constexpr std::size_t kAtOnce = 4;
/// A cut brought forward so often in vain does not help.
constexpr int kMostTries = 4;

bool is_better(const TrimPlan& a, const TrimPlan& b) {
    if (a.reached != b.reached) return a.reached;
    if (a.trouble.count(0) != b.trouble.count(0)) return a.trouble.count(0) == 0;
    return a.trouble.size() < b.trouble.size();
}

void sort_by_day(std::vector<Cut>& cuts) {
    std::sort(cuts.begin(), cuts.end(), [](const Cut& a, const Cut& b) {
        return a.day_d != b.day_d ? a.day_d < b.day_d : a.colony < b.colony;
    });
}

bool is_taken(const std::vector<Cut>& cuts, int colony, double day_d) {
    return std::any_of(cuts.begin(), cuts.end(),
                       [&](const Cut& cut) { return cut.colony == colony && cut.day_d == day_d; });
}

}  // namespace

TrimSearch::TrimSearch(TrimMembers& members, const TrimAim& aim, Workload& work, double kept_back)
    : members_(members), aim_(aim), work_(work), kept_back_(kept_back) {
    const auto& without = members_.without_cuts();
    for (std::size_t place = 0; place < without.size(); ++place)
        if (without[place].trouble) troubled_.push_back(place);
}

std::size_t TrimSearch::allowed() const {
    const int members = static_cast<int>(members_.without_cuts().size());
    int allowed = 0;
    while (allowed + 1 < members &&
           share_interval(members - allowed - 1, members).low >= aim_.confidence)
        ++allowed;
    return static_cast<std::size_t>(allowed);
}

double TrimSearch::smallest_m(int colony) const {
    const double set_m = members_.layout().colonies[static_cast<std::size_t>(colony)].diameter_m;
    return kGrid_m * std::max(1.0, std::ceil(aim_.smallest * set_m / kGrid_m - 1e-9));
}

TrimPlan TrimSearch::without_cuts() {
    TrimPlan plan;
    for (const std::size_t place : troubled_)
        plan.trouble.emplace(place, *members_.without_cuts()[place].trouble);
    plan.reached = plan.trouble.size() <= allowed() && plan.trouble.count(0) == 0;
    return plan;
}

void TrimSearch::note(const TrimRun& run, std::size_t place, TrimPlan& plan) {
    if (run.trouble) plan.trouble.emplace(place, *run.trouble);
    for (const CutDone& done : run.cuts)
        for (std::size_t c = 0; c < plan.cuts.size(); ++c)
            if (plan.cuts[c].colony == done.colony && plan.cuts[c].day_d == done.day_d)
                plan.widest_m[c] = std::max(plan.widest_m[c], done.before_m);
}

/// Runs a plan on the members in trouble, a few at a time, until more than `most_trouble` are in it
/// still: those that fell back last are asked first, since they are likely to again.
TrimPlan TrimSearch::judged(std::vector<Cut> cuts, std::size_t most_trouble) {
    TrimPlan plan;
    plan.cuts = std::move(cuts);
    plan.widest_m.assign(plan.cuts.size(), 0.0);
    const std::vector<std::size_t> order = troubled_;
    for (std::size_t first = 0; first < order.size(); first += kAtOnce) {
        const auto begin = order.begin() + static_cast<std::ptrdiff_t>(first);
        const std::vector<std::size_t> some(
            begin, begin + static_cast<std::ptrdiff_t>(std::min(kAtOnce, order.size() - first)));
        const auto runs = members_.run(plan.cuts, some, TrimMembers::Until::trouble);
        for (std::size_t i = 0; i < runs.size(); ++i) note(runs[i], some[i], plan);
        if (work_.stopped() || plan.trouble.size() > most_trouble) break;
    }
    std::stable_partition(troubled_.begin(), troubled_.end(),
                          [&](std::size_t place) { return plan.trouble.count(place) > 0; });
    plan.reached = plan.trouble.size() <= allowed() && plan.trouble.count(0) == 0;
    return plan;
}

TrimPlan TrimSearch::find() {
    TrimPlan plan = without_cuts(), best = plan;
    while (!plan.reached && has_room() && take_next_cut(plan))
        if (is_better(plan, best)) best = plan;
    drop_spare_cuts(best);
    for (std::size_t cut = best.cuts.size(); cut-- > 0;) put_off(best, cut);
    for (std::size_t cut = best.cuts.size(); cut-- > 0;) make_gentler(best, cut);
    sort_by_day(best.cuts);
    return best;
}

/// Of the corals whose cut could help, the one that could help most members; the best estimate's
/// before all.
std::vector<TrimSearch::Wanted> TrimSearch::most_wanted(const TrimPlan& plan) const {
    std::map<int, std::vector<Wanted>> by_colony;
    const std::vector<Wanted>* most = nullptr;
    for (const auto& [place, flag] : plan.trouble) {
        const auto tries = brought_forward_.find(place);
        if (tries != brought_forward_.end() && tries->second >= kMostTries) continue;
        const auto colony = colony_to_cut(members_.layout(), flag);
        if (!colony) continue;
        auto& wanted = by_colony[*colony];
        wanted.push_back({place, flag});
        if (place == 0) most = &wanted;
    }
    if (most != nullptr) return *most;
    for (const auto& [colony, wanted] : by_colony)
        if (most == nullptr || wanted.size() > most->size()) most = &wanted;
    return most != nullptr ? *most : std::vector<Wanted>{};
}

/// The one whose trouble the next cut has to come before: late enough that no more members are
/// helped than must be, and no later than the best estimate's.
TrimSearch::Wanted TrimSearch::deadline(const TrimPlan& plan, std::vector<Wanted> wanted) const {
    std::stable_sort(wanted.begin(), wanted.end(),
                     [](const Wanted& a, const Wanted& b) { return a.flag.day_d > b.flag.day_d; });
    const std::size_t too_many =
        plan.trouble.size() > allowed() ? plan.trouble.size() - allowed() : 1;
    Wanted last = wanted[std::min(too_many, wanted.size()) - 1];
    for (const Wanted& w : wanted)
        if (w.place == 0 && w.flag.day_d < last.flag.day_d) last = w;
    return last;
}

/// Adds a cut, or brings one forward that came too late. False when there is nobody left to help.
bool TrimSearch::take_next_cut(TrimPlan& plan) {
    const auto wanted = most_wanted(plan);
    if (wanted.empty()) return false;
    const Wanted next = deadline(plan, wanted);
    const int colony = *colony_to_cut(members_.layout(), next.flag);
    std::vector<Cut> cuts = plan.cuts;
    if (!bring_forward(cuts, colony, next)) {
        const int month = last_month_before(next.flag.day_d);
        if (month > 0 && !is_taken(cuts, colony, first_day_of(month)))
            cuts.push_back({colony, first_day_of(month), smallest_m(colony)});
    }
    sort_by_day(cuts);
    if (cuts == plan.cuts)
        brought_forward_[next.place] = kMostTries;
    else
        plan = judged(std::move(cuts), troubled_.size());
    return !work_.stopped();
}

/// Makes a cut a month earlier that trouble followed too soon; false when there is none such.
bool TrimSearch::bring_forward(std::vector<Cut>& cuts, int colony, const Wanted& wanted) {
    for (Cut& cut : cuts) {
        const double since_d = wanted.flag.day_d - cut.day_d;
        if (cut.colony != colony || since_d < 0.0 || since_d > kOnItsWay_d) continue;
        ++brought_forward_[wanted.place];
        const int month = last_month_before(cut.day_d);
        if (month > 0 && !is_taken(cuts, colony, first_day_of(month)))
            cut.day_d = first_day_of(month);
        return true;
    }
    return false;
}

/// Keeps a change that leaves no more trouble than there was, or than is allowed.
bool TrimSearch::try_change(TrimPlan& plan, const Change& change) {
    if (!has_room()) return false;
    std::vector<Cut> cuts = plan.cuts;
    change(cuts);
    // Where too many are in trouble the rest need not be asked.
    const std::size_t most = plan.reached ? allowed() : plan.trouble.size();
    TrimPlan changed = judged(std::move(cuts), most);
    if (work_.stopped() || changed.trouble.size() > most) return false;
    if (!changed.reached && is_better(plan, changed)) return false;
    plan = std::move(changed);
    return true;
}

void TrimSearch::drop_spare_cuts(TrimPlan& plan) {
    for (std::size_t cut = 0; cut < plan.cuts.size() && plan.cuts.size() > 1;) {
        const auto erase = [cut](std::vector<Cut>& cuts) {
            cuts.erase(cuts.begin() + static_cast<std::ptrdiff_t>(cut));
        };
        if (!try_change(plan, erase)) ++cut;
    }
}

void TrimSearch::put_off(TrimPlan& plan, std::size_t cut) {
    for (;;) {
        const Cut& now = plan.cuts[cut];
        const double later_d = first_day_of(last_month_before(now.day_d + 1.0) + 1);
        if (later_d >= day_at_month(members_.layout().season.months)) return;
        if (is_taken(plan.cuts, now.colony, later_d)) return;
        if (!try_change(plan, [&](std::vector<Cut>& cuts) { cuts[cut].day_d = later_d; })) return;
    }
}

/// Finds the gentlest cut that does, then stays half of the way to the deepest: other members grow
/// faster than those looked at.
void TrimSearch::make_gentler(TrimPlan& plan, std::size_t cut) {
    const double deepest_m = plan.cuts[cut].to_m;
    const auto between_m = [](double deep_m, double gentle_m) {
        return kGrid_m * std::floor(0.5 * (deep_m + gentle_m) / kGrid_m + 1e-6);
    };
    const auto try_size = [&](double to_m) {
        return try_change(plan, [&](std::vector<Cut>& cuts) { cuts[cut].to_m = to_m; });
    };
    double gentle_m = plan.widest_m[cut];  // a circle that cuts nothing
    while (has_room() && between_m(plan.cuts[cut].to_m, gentle_m) > plan.cuts[cut].to_m + 1e-6) {
        const double to_m = between_m(plan.cuts[cut].to_m, gentle_m);
        if (!try_size(to_m)) gentle_m = to_m;
    }
    if (plan.cuts[cut].to_m > deepest_m) try_size(between_m(deepest_m, plan.cuts[cut].to_m));
}

}  // namespace bedshade
