// One flag over many members: how often, when, and what its month depends on most.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/base/flag.h"
#include "sim/verdict/sensitivity.h"

namespace bedshade {

/// One flag of one colony over all members.
struct FlagSpread {
    FlagKind kind = FlagKind::too_dim;
    int colony = 0;
    std::vector<std::optional<int>> month;  ///< by member; nothing where it is never raised
};

/// Every flag that any member raised, by colony, then kind. Flags outside [0, members) are an error
/// of the caller.
std::vector<FlagSpread> spread_of_flags(const std::vector<Flag>& flags, int members);

/// Those of one member; 0 is the best estimate.
std::vector<Flag> flags_of_member(const std::vector<Flag>& flags, int member);

/// Members that raised it.
int runs_with(const FlagSpread& spread);
/// Share of members that had raised it by the end of each month, [month - 1].
std::vector<double> probability_by_month(const FlagSpread& spread, int months);
/// The first month by which at least this share of all members had raised it; nothing where fewer
/// ever do.
std::optional<int> quantile_month(const FlagSpread& spread, double share);

/// The 90 % interval of a share seen in `hits` of `runs` (score interval, Wilson 1927).
struct ShareInterval {
    double low = 0.0, high = 1.0;
};
ShareInterval share_interval(int hits, int runs);

/// Many runs of one layout: their flags and sampled parameters.
struct Ensemble {
    std::vector<FlagSpread> spreads;
    std::vector<std::string> quantities;      ///< names of the sampled parameters
    std::vector<std::vector<double>> scores;  ///< [member][quantity]
};

/// A quantity and how far a flag's month goes with it.
struct Driver {
    std::size_t quantity = 0;
    double rank_correlation = 0.0;  ///< of month with the quantity; negative: more of it, earlier
    FirstOrderIndex index;          ///< of the month's rank
    bool one_way = true;            ///< more of it goes one way on the whole, beyond chance
};

/// Rank correlation (Spearman 1904, Am. J. Psychol. 15:72), ties at their mean rank; 0 where either
/// does not vary.
double rank_correlation(const std::vector<double>& a, const std::vector<double>& b);

/// The quantity that explains more than half the spread of the month's rank, and more than chance
/// could among many quantities: by its squared rank correlation, or where none does by its
/// first-order index, which also sees what is worst in its middle or at both its ends, and what
/// raises a flag in few runs, the rest of which tie. That errs more, so its whole 90 % interval has
/// to lie above half. Nothing: no single one does, or fewer than 4 members. Members that never
/// raise the flag count as later than any that do. `scores` are [member][quantity].
std::optional<Driver> main_driver(const FlagSpread& spread,
                                  const std::vector<std::vector<double>>& scores);

}  // namespace bedshade
