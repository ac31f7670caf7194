#include "model/flow/pump_settings.h"

#include <cstddef>

namespace bedshade {
namespace {

constexpr std::size_t kNoPump = static_cast<std::size_t>(-1);

/// Pumps that switch together: `first` runs for its duty, `second` (if any) for the rest.
struct Switch {
    std::size_t first = kNoPump, second = kNoPump;
    double duty = 1.0;
};

std::size_t partner_of(const std::vector<Pump>& pumps, std::size_t p) {
    if (pumps[p].program != PumpProgram::alternate) return kNoPump;
    for (std::size_t q = 0; q < pumps.size(); ++q)
        if (q != p && pumps[q].name == pumps[p].alternates_with) return q;
    return kNoPump;
}

std::vector<Switch> switches(const std::vector<Pump>& pumps) {
    std::vector<Switch> found;
    std::vector<bool> placed(pumps.size(), false);
    for (std::size_t p = 0; p < pumps.size(); ++p) {
        if (placed[p] || pumps[p].program == PumpProgram::steady) continue;
        std::size_t q = partner_of(pumps, p);
        if (q != kNoPump && placed[q]) q = kNoPump;
        placed[p] = true;
        if (q != kNoPump) placed[q] = true;
        found.push_back({p, q, pumps[p].duty});
    }
    return found;
}

/// Every setting twice: once with the first pump of the switch running, once with the second.
std::vector<PumpSetting> apply_switch(const std::vector<PumpSetting>& before, const Switch& s) {
    std::vector<PumpSetting> after;
    for (const auto& setting : before) {
        PumpSetting on = setting, off = setting;
        on.time_share *= s.duty;
        off.time_share *= 1.0 - s.duty;
        if (s.second != kNoPump) on.running[s.second] = false;
        off.running[s.first] = false;
        if (on.time_share > 0.0) after.push_back(on);
        if (off.time_share > 0.0) after.push_back(off);
    }
    return after;
}

}  // namespace

std::vector<PumpSetting> pump_settings(const std::vector<Pump>& pumps) {
    std::vector<PumpSetting> settings{{1.0, std::vector<bool>(pumps.size(), true)}};
    int switched = 0;
    for (const auto& s : switches(pumps))
        if (switched++ < kMaxSwitching) settings = apply_switch(settings, s);
    return settings;
}

}  // namespace bedshade
