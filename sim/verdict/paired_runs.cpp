#include "sim/verdict/paired_runs.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "sim/base/calendar.h"
#include "sim/base/quantile.h"

namespace bedshade {
namespace {

using FlagKey = std::pair<std::string, FlagKind>;

std::map<FlagKey, double> days_by_flag(const Layout& layout, const std::vector<Flag>& flags) {
    std::map<FlagKey, double> days;
    for (const Flag& flag : flags)
        days.emplace(
            FlagKey(layout.colonies[static_cast<std::size_t>(flag.colony)].name, flag.kind),
            flag.day_d);
    return days;
}

std::vector<PairedFlag> paired_flags(const Layout& before, const Layout& after,
                                     const std::vector<MemberPair>& pairs) {
    std::map<FlagKey, PairedFlag> found;
    const auto flag_of = [&](const FlagKey& key) -> PairedFlag& {
        PairedFlag& flag = found[key];
        flag.colony = key.first;
        flag.kind = key.second;
        return flag;
    };
    for (const MemberPair& pair : pairs) {
        const auto without = days_by_flag(before, pair.before.flags);
        const auto with = days_by_flag(after, pair.after.flags);
        for (const auto& [key, day_d] : without) {
            const auto other = with.find(key);
            if (other == with.end())
                ++flag_of(key).lost;
            else
                flag_of(key).shift_months.push_back((other->second - day_d) / kDaysPerMonth);
        }
        for (const auto& [key, day_d] : with)
            if (without.count(key) == 0) ++flag_of(key).gained;
    }
    std::vector<PairedFlag> flags;
    for (auto& [key, flag] : found) {
        std::sort(flag.shift_months.begin(), flag.shift_months.end());
        flags.push_back(std::move(flag));
    }
    return flags;
}

PairedSpread spread_of(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const double sum = std::accumulate(values.begin(), values.end(), 0.0);
    return {sum / static_cast<double>(values.size()), quantile(values, 0.05),
            quantile(values, 0.95)};
}

std::optional<std::size_t> number_of(const Layout& layout, const std::string& name) {
    for (std::size_t i = 0; i < layout.colonies.size(); ++i)
        if (layout.colonies[i].name == name) return i;
    return std::nullopt;
}

PairedColony paired_colony(const std::string& name, std::size_t before, std::size_t after,
                           const std::vector<MemberPair>& pairs) {
    PairedColony colony{name, {}};
    for (std::size_t f = 0; f < kPairedQuantities.size(); ++f) {
        const PairedQuantity& figure = kPairedQuantities[f];
        std::vector<double> differences;
        differences.reserve(pairs.size());
        for (const MemberPair& pair : pairs)
            differences.push_back(figure.factor * (pair.after.colonies[after].*figure.value -
                                                   pair.before.colonies[before].*figure.value));
        colony.difference[f] = spread_of(std::move(differences));
    }
    return colony;
}

}  // namespace

bool PairedFlag::differs() const {
    return gained > 0 || lost > 0 ||
           std::any_of(shift_months.begin(), shift_months.end(), [](double s) { return s != 0.0; });
}

bool PairedColony::differs() const {
    return std::any_of(difference.begin(), difference.end(),
                       [](const PairedSpread& d) { return d != PairedSpread{}; });
}

bool PairedRuns::same() const {
    const auto differs = [](const auto& each) { return each.differs(); };
    return std::none_of(flags.begin(), flags.end(), differs) &&
           std::none_of(colonies.begin(), colonies.end(), differs);
}

PairedRuns paired(const Layout& before, const Layout& after, const std::vector<MemberPair>& pairs) {
    assert(!pairs.empty());
    PairedRuns found{static_cast<int>(pairs.size()), paired_flags(before, after, pairs), {}};
    for (std::size_t i = 0; i < before.colonies.size(); ++i)
        if (const auto other = number_of(after, before.colonies[i].name))
            found.colonies.push_back(paired_colony(before.colonies[i].name, i, *other, pairs));
    return found;
}

}  // namespace bedshade
