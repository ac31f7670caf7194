#include "sim/advice/result_json.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace bedshade {
using nlohmann::ordered_json;

ordered_json json_of(const Score& score) {
    auto colonies = ordered_json::array();
    for (const WorstMargin& worst : score.colonies)
        colonies.push_back(
            {json_of_number(worst.value), static_cast<int>(worst.kind), worst.day_d});
    return {{"colonies", colonies},
            {"to_blame", score.cause_of},
            {"end_diameter_m", score.end_diameter_m},
            {"worst", score.worst}};
}

Score score_of(const ordered_json& json) {
    Score score;
    for (const auto& worst : json.at("colonies"))
        score.colonies.push_back({number_from_json(worst.at(0)),
                                  static_cast<MarginKind>(worst.at(1).get<int>()), worst.at(2)});
    json.at("to_blame").get_to(score.cause_of);
    json.at("end_diameter_m").get_to(score.end_diameter_m);
    json.at("worst").get_to(score.worst);
    return score;
}

ordered_json json_of_numbers(const std::vector<double>& figures) {
    auto json = ordered_json::array();
    for (const double figure : figures) json.push_back(json_of_number(figure));
    return json;
}

std::vector<double> numbers_from_json(const ordered_json& json) {
    std::vector<double> figures;
    for (const auto& figure : json) figures.push_back(number_from_json(figure));
    return figures;
}

std::string run_name(const Layout& layout, const RunOptions& options) {
    std::string name =
        fmt::format("member {} of seed {}, lamps times {}, steps of {} d", options.member,
                    options.seed, options.output_scale, layout.season.step_d);
    for (const Colony& colony : layout.colonies)
        name += fmt::format("; '{}' on '{}' at {} {} {}", colony.name, colony.on,
                            colony.position_m.x(), colony.position_m.y(), colony.position_m.z());
    return name;
}

Score recalled_score(ResultCache& cache, const Layout& layout, const RunOptions& options,
                     const ParallelFor& parallel, const GoOn& go_on) {
    const auto runner = [&](const GoOn& on) {
        const Score score = run_score(layout, options, parallel, on);
        on(1.0);
        return json_of(score);
    };
    return score_of(cache.recall("score, " + run_name(layout, options), go_on, runner));
}

}  // namespace bedshade
