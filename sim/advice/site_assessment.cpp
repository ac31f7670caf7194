#include "sim/advice/site_assessment.h"

#include <algorithm>

#include "sim/verdict/margins.h"

namespace bedshade {

const char* to_string(Criterion criterion) {
    constexpr std::array kNames = {"light", "sand", "reach", "flow", "room", "shade", "grain"};
    static_assert(kNames.size() == kCriteria.size());
    return kNames[static_cast<std::size_t>(criterion)];
}

bool is_length(Criterion criterion) {
    return criterion == Criterion::reach || criterion == Criterion::room;
}

bool SiteAssessment::does() const {
    return taken == Taken::free && holds && irritated_by < 0 &&
           std::none_of(gauges.begin(), gauges.end(), [](const OverTime& g) { return g.fails(); });
}

WorstCriterion worst_of(const SiteAssessment& assessment) {
    WorstCriterion worst;
    for (const Criterion criterion : kCriteria) {
        const double value =
            assessment.criterion(criterion).worst / (is_length(criterion) ? kRoomOfOne_m : 1.0);
        if (criterion == Criterion::grain && value >= 0.0) continue;
        if (value < worst.value) worst = {value, criterion};
    }
    return worst;
}

std::vector<Criterion> failing_criteria(const SiteAssessment& assessment) {
    std::vector<Criterion> gauges;
    for (const Criterion criterion : kCriteria)
        if (assessment.criterion(criterion).fails()) gauges.push_back(criterion);
    const auto weight = [&](Criterion criterion) {
        return assessment.criterion(criterion).worst / (is_length(criterion) ? kRoomOfOne_m : 1.0);
    };
    std::stable_sort(gauges.begin(), gauges.end(),
                     [&](Criterion a, Criterion b) { return weight(a) < weight(b); });
    return gauges;
}

}  // namespace bedshade
