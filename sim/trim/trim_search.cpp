#include "sim/trim/trim_search.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "sim/base/calendar.h"
#include "sim/trim/cut_flags.h"
#include "sim/verdict/ensemble.h"

namespace bedshade {
namespace {

constexpr double kGrid_m = 0.005;  // sizes are reported in half centimetres
/// Members run at once; independent of the number of threads, so that results are too.
constexpr std::size_t kAtOnce = 4;
/// New members met at first, when no plan is there yet, and then in a round.
constexpr int kFirstRound = 8, kRound = 16;
/// Trouble this soon after a cut was on its way when it was made: light is judged by the month,
/// sweepers take another to draw back.
constexpr double kOnItsWay_d = 2.0 * kDaysPerMonth;
/// A cut moved earlier by more months than this without success does not help.
constexpr int kMostMonthsForward = 4;

bool is_better(const TrimPlan& a, const TrimPlan& b) {
    if (a.reached != b.reached) return a.reached;
    if (a.unprevented.count(0) != b.unprevented.count(0)) return a.unprevented.count(0) == 0;
    return a.unprevented.size() < b.unprevented.size();
}

void sort_by_day(std::vector<Cut>& cuts) {
    std::sort(cuts.begin(), cuts.end(), [](const Cut& a, const Cut& b) {
        return a.day_d != b.day_d ? a.day_d < b.day_d : a.colony < b.colony;
    });
}

/// Records what a run shows about its plan.
void note(const TrimRun& run, TrimPlan& plan) {
    if (run.unprevented) plan.unprevented[run.member] = *run.unprevented;
    for (const CutDone& done : run.cuts)
        for (std::size_t c = 0; c < plan.cuts.size(); ++c)
            if (plan.cuts[c].colony == done.colony && plan.cuts[c].day_d == done.day_d)
                plan.widest_m[c] = std::max(plan.widest_m[c], done.before_m);
}

}  // namespace

TrimSearch::TrimSearch(TrimMembers& members, const TrimAim& aim, int most_members, RunBudget& work,
                       double reserve)
    : members_(members), aim_(aim), most_members_(most_members), work_(work), reserve_(reserve) {}

std::size_t TrimSearch::allowed() const {
    int allowed = 0;
    while (allowed + 1 < members_used_ &&
           share_interval(members_used_ - allowed - 1, members_used_).low >= aim_.confidence)
        ++allowed;
    return static_cast<std::size_t>(allowed);
}

/// Each run may need another without cuts, to attribute a flag.
bool TrimSearch::has_room(std::size_t runs) const { return work_.allows(2 * runs, reserve_); }

double TrimSearch::smallest_m(int colony) const {
    const double set_m = members_.layout().colonies[static_cast<std::size_t>(colony)].diameter_m;
    return kGrid_m * std::max(1.0, std::ceil(aim_.smallest * set_m / kGrid_m - 1e-9));
}

void TrimSearch::update_result(TrimPlan& plan) const {
    plan.members = members_used_;
    plan.reached = plan.unprevented.size() <= allowed() && plan.unprevented.count(0) == 0;
}

TrimPlan TrimSearch::find() {
    TrimPlan plan;
    for (int count = next_round(); count > 0 && !work_.stopped(); count = next_round()) {
        if (try_on_new_members(count, plan) && !plan.reached) improve(plan);
    }
    return plan;
}

/// How many members to meet next: fewer where the work left is short, none where it is spent.
int TrimSearch::next_round() const {
    int count = std::min(members_used_ == 0 ? kFirstRound : kRound, most_members_ - members_used_);
    while (count > 0 && !has_room(static_cast<std::size_t>(count))) count /= 2;
    return count;
}

/// Tries the plan on new members; returns whether any of them failed.
bool TrimSearch::try_on_new_members(int count, TrimPlan& plan) {
    std::vector<int> members(static_cast<std::size_t>(count));
    std::iota(members.begin(), members.end(), members_used_);
    members_used_ += count;
    const std::size_t held_before = constraints_.size();
    for (const TrimRun& run : members_.run(plan.cuts, members, TrimMembers::Until::first_flag)) {
        note(run, plan);
        if (run.unprevented) constraints_.insert(constraints_.begin(), run.member);
    }
    update_result(plan);
    return constraints_.size() > held_before;
}

/// Runs a plan on the members it is held to, a few at a time, until more than `most_flagged` are in
/// trouble still: those that fell back last are asked first, since they are likely to again.
TrimPlan TrimSearch::evaluated(std::vector<Cut> cuts, std::size_t most_flagged) {
    TrimPlan plan;
    plan.cuts = std::move(cuts);
    plan.widest_m.assign(plan.cuts.size(), 0.0);
    const std::vector<int> order = constraints_;
    for (std::size_t first = 0; first < order.size(); first += kAtOnce) {
        const auto begin = order.begin() + static_cast<std::ptrdiff_t>(first);
        const std::vector<int> some(
            begin, begin + static_cast<std::ptrdiff_t>(std::min(kAtOnce, order.size() - first)));
        for (const TrimRun& run : members_.run(plan.cuts, some, TrimMembers::Until::first_flag))
            note(run, plan);
        if (work_.stopped() || plan.unprevented.size() > most_flagged) break;
    }
    std::stable_partition(constraints_.begin(), constraints_.end(),
                          [&](int member) { return plan.unprevented.count(member) > 0; });
    update_result(plan);
    return plan;
}

void TrimSearch::improve(TrimPlan& plan) {
    TrimPlan best = plan;
    while (!plan.reached && has_room(constraints_.size()) && take_next_cut(plan))
        if (is_better(plan, best)) best = plan;
    drop_spare_cuts(best);
    for (std::size_t cut = best.cuts.size(); cut-- > 0;) make_gentler(best, cut);
    plan = std::move(best);
}

/// Of the corals whose cut could help, the members of the one that could help most; the best
/// estimate's before all.
std::vector<int> TrimSearch::most_wanted(const TrimPlan& plan) const {
    std::map<int, std::vector<int>> by_colony;
    const std::vector<int>* most = nullptr;
    for (const auto& [member, flag] : plan.unprevented) {
        if (given_up_.count(member) > 0) continue;
        const auto colony = colony_to_cut(members_.layout(), flag);
        if (!colony) continue;
        auto& wanted = by_colony[*colony];
        wanted.push_back(member);
        if (member == 0) most = &wanted;
    }
    if (most != nullptr) return *most;
    for (const auto& [colony, wanted] : by_colony)
        if (most == nullptr || wanted.size() > most->size()) most = &wanted;
    return most != nullptr ? *most : std::vector<int>{};
}

/// The one whose trouble the next cut has to come before: late enough that no more members are
/// helped than must be, and no later than the best estimate's.
int TrimSearch::most_pressing(const TrimPlan& plan, std::vector<int> wanted) const {
    const auto day_d = [&](int member) { return plan.unprevented.at(member).day_d; };
    std::stable_sort(wanted.begin(), wanted.end(),
                     [&](int a, int b) { return day_d(a) > day_d(b); });
    const std::size_t too_many =
        plan.unprevented.size() > allowed() ? plan.unprevented.size() - allowed() : 1;
    const int last = wanted[std::min(too_many, wanted.size()) - 1];
    const bool has_best_estimate = std::count(wanted.begin(), wanted.end(), 0) > 0;
    return has_best_estimate && day_d(0) < day_d(last) ? 0 : last;
}

/// Adds a cut, or brings one forward that came too late. False when there is nobody left to help.
bool TrimSearch::take_next_cut(TrimPlan& plan) {
    const auto wanted = most_wanted(plan);
    if (wanted.empty()) return false;
    const int member = most_pressing(plan, wanted);
    const auto cuts = cuts_that_save(member, plan.unprevented.at(member), plan.cuts);
    if (work_.stopped() || !has_room(constraints_.size())) return false;
    if (cuts)
        plan = evaluated(*cuts, constraints_.size());
    else
        given_up_.insert(member);
    return !work_.stopped();
}

/// These cuts with one more, as late as saves the member from its trouble, in the place of those of
/// the same coral from then on; nothing where none does.
std::optional<std::vector<Cut>> TrimSearch::cuts_that_save(int member, const Flag& unprevented,
                                                           const std::vector<Cut>& cuts) {
    const int colony = *colony_to_cut(members_.layout(), unprevented);
    const int latest = last_month_before(unprevented.day_d);
    for (int month = latest; month > 0 && month >= latest - kMostMonthsForward; --month) {
        if (!has_room(1)) return std::nullopt;
        const double day_d = first_day_of(month);
        std::vector<Cut> tried = cuts;
        // Later ones are looked for again: they need not come as early any more.
        std::erase_if(tried,
                      [&](const Cut& cut) { return cut.colony == colony && cut.day_d >= day_d; });
        tried.push_back({colony, day_d, smallest_m(colony)});
        sort_by_day(tried);
        if (tried == cuts) continue;
        const auto run = members_.run(tried, {member}, TrimMembers::Until::first_flag).front();
        if (work_.stopped()) return std::nullopt;
        const double safe_until_d = std::max(unprevented.day_d, day_d + kOnItsWay_d);
        if (!run.unprevented || run.unprevented->day_d > safe_until_d) return tried;
    }
    return std::nullopt;
}

/// Keeps a change that leaves no more trouble than there was, or than is allowed.
bool TrimSearch::try_change(TrimPlan& plan, const Change& change) {
    if (!has_room(constraints_.size())) return false;
    std::vector<Cut> cuts = plan.cuts;
    change(cuts);
    // If too many fail, the rest need not run.
    const std::size_t most = plan.reached ? allowed() : plan.unprevented.size();
    TrimPlan changed = evaluated(std::move(cuts), most);
    if (work_.stopped() || changed.unprevented.size() > most) return false;
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

/// Where a cut half as deep does, stays half of the way between that and the deepest: other members
/// grow faster than those met.
void TrimSearch::make_gentler(TrimPlan& plan, std::size_t cut) {
    const double deepest_m = plan.cuts[cut].to_m;
    const auto between_m = [](double deep_m, double gentle_m) {
        return kGrid_m * std::floor(0.5 * (deep_m + gentle_m) / kGrid_m + 1e-6);
    };
    const auto try_size = [&](double to_m) {
        return to_m > deepest_m + 1e-6 &&
               try_change(plan, [&](std::vector<Cut>& cuts) { cuts[cut].to_m = to_m; });
    };
    // The widest is a circle that cuts nothing.
    if (try_size(between_m(deepest_m, plan.widest_m[cut])))
        try_size(between_m(deepest_m, plan.cuts[cut].to_m));
}

}  // namespace bedshade
