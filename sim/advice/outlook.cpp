#include "sim/advice/outlook.h"

#include <algorithm>

#include "sim/verdict/margins.h"

namespace bedshade {

const char* to_string(Gauge gauge) {
    constexpr std::array kNames = {"light", "sand", "reach", "flow", "room", "shade", "grain"};
    static_assert(kNames.size() == kGauges.size());
    return kNames[static_cast<std::size_t>(gauge)];
}

bool is_length(Gauge gauge) { return gauge == Gauge::reach || gauge == Gauge::room; }

bool Outlook::does() const {
    return taken == Taken::free && holds && bothered_by < 0 &&
           std::none_of(gauges.begin(), gauges.end(), [](const OverTime& g) { return g.fails(); });
}

WorstGauge worst_of(const Outlook& outlook) {
    WorstGauge worst;
    for (const Gauge gauge : kGauges) {
        const double value = outlook.gauge(gauge).worst / (is_length(gauge) ? kRoomOfOne_m : 1.0);
        if (gauge == Gauge::grain && value >= 0.0) continue;
        if (value < worst.value) worst = {value, gauge};
    }
    return worst;
}

std::vector<Gauge> failing_gauges(const Outlook& outlook) {
    std::vector<Gauge> gauges;
    for (const Gauge gauge : kGauges)
        if (outlook.gauge(gauge).fails()) gauges.push_back(gauge);
    const auto weight = [&](Gauge gauge) {
        return outlook.gauge(gauge).worst / (is_length(gauge) ? kRoomOfOne_m : 1.0);
    };
    std::stable_sort(gauges.begin(), gauges.end(),
                     [&](Gauge a, Gauge b) { return weight(a) < weight(b); });
    return gauges;
}

}  // namespace bedshade
