// bedshade describe: what a trajectory holds, without running anything.
#include <filesystem>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/output/report.h"
#include "sim/output/run_layout.h"
#include "sim/season/calendar.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {
namespace {

std::string horizon_text(const Trajectory& run) {
    const auto& days = run.days_d();
    const double end_d = days.empty() ? 0.0 : days.back();
    return fmt::format("{} to {}, {} frames{}", to_string(run.start()),
                       date_of_season(run.start(), end_d), days.size(),
                       run.complete() ? "" : "; the run was stopped before its end");
}

void print_text(const std::string& path, const Trajectory& run, const Layout& layout) {
    const RunFacts& facts = run.facts();
    const BedGrid& bed = run.bed_grid();
    fmt::print("{}: {}\n", printable(path), printable(run.title()));
    fmt::print("  season   {}\n", horizon_text(run));
    fmt::print("  made by  bedshade {} (model {}), seed {}, {} member{}\n",
               printable(facts.program_version), printable(facts.model_version), facts.seed,
               facts.members, facts.members == 1 ? "" : "s");
    fmt::print("  holds    {} corals, a bed of {} x {} cells{}; {:.1f} MB\n", run.colonies().size(),
               bed.nx, bed.ny, run.flow() ? ", the flow of the water" : "",
               1e-6 * static_cast<double>(std::filesystem::file_size(path)));
    if (run.flags().empty()) fmt::print("  flags    none\n");
    for (const Flag& flag : told_order(layout, run.flags()))
        fmt::print("  flag     {}\n", flag_text(layout, flag));
    for (const EventRecord& event : run.events())
        fmt::print("  {}  {}\n", date_of_season(run.start(), event.day_d), printable(event.text));
}

void print_json(const std::string& path, const Trajectory& run, const Layout& layout) {
    using nlohmann::ordered_json;
    ordered_json colonies = ordered_json::array(), flags = ordered_json::array();
    for (const ColonyFacts& colony : run.colonies())
        colonies.push_back({{"name", colony.name}, {"taxon", colony.taxon}});
    for (const Flag& flag : run.flags()) flags.push_back(flag_text(layout, flag));
    const RunFacts& facts = run.facts();
    const ordered_json document = {{"format", 1},
                                   {"file", path},
                                   {"title", run.title()},
                                   {"start", to_string(run.start())},
                                   {"complete", run.complete()},
                                   {"frames", run.days_d().size()},
                                   {"members", facts.members},
                                   {"seed", facts.seed},
                                   {"program_version", facts.program_version},
                                   {"model_version", facts.model_version},
                                   {"colonies", colonies},
                                   {"flags", flags}};
    fmt::print("{}\n", document.dump(2, ' ', false, ordered_json::error_handler_t::replace));
}

int run(const Arguments& arguments) {
    const std::string& path = arguments.only_word("trajectory file");
    const Trajectory trajectory(path);
    const Layout layout = layout_of(trajectory);
    if (arguments.json())
        print_json(path, trajectory, layout);
    else
        print_text(path, trajectory, layout);
    return kDone;
}

}  // namespace

const Command kDescribeCommand = {
    "describe",
    "RUN.h5",
    "what a trajectory holds: the season, its seed and versions, flags and events",
    "A run that was stopped (RUN.h5.part) is described as far as it came.\n"
    "  bedshade describe my_tank.h5",
    [](po::options_description&) {},
    run};

}  // namespace bedshade
