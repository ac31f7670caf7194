// bedshade describe: list the contents of a trajectory, without running anything.
#include <filesystem>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/base/sha256.h"
#include "sim/base/text.h"
#include "sim/report/ensemble_text.h"
#include "sim/report/report.h"
#include "sim/trajectory/run_layout.h"
#include "sim/verdict/ensemble.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {
namespace {

std::string horizon_text(const Trajectory& run) {
    const auto& days = run.days_d();
    const double begin_d = days.empty() ? 0.0 : days.front();
    const double end_d = days.empty() ? 0.0 : days.back();
    return fmt::format("{} to {}, {} frames{}", date_at(run.start(), begin_d),
                       date_at(run.start(), end_d), days.size(),
                       run.complete() ? "" : "; the run was stopped before its end");
}

/// "of all 'disc' light-short: month 16, between 8 and 22, in 21 of 64 runs"
std::vector<std::string> spread_sentences(const Trajectory& run, const Layout& layout) {
    std::vector<std::string> sentences;
    for (const FlagSpread& spread : spread_of_flags(run.flags(), run.facts().members))
        sentences.push_back(fmt::format(
            "'{}' {}: {}",
            escape_control(layout.colonies[static_cast<std::size_t>(spread.colony)].name),
            to_string(spread.kind), month_range_text(spread)));
    return sentences;
}

/// The best estimate's flags one by one, those of an ensemble as their spread.
void print_flags(const Trajectory& run, const Layout& layout) {
    const std::vector<Flag> central = flags_of_member(run.flags(), 0);
    if (central.empty()) fmt::print("  flags    none\n");
    for (const Flag& flag : reporting_order(layout, central))
        fmt::print("  flag     {}\n", flag_text(layout, flag));
    if (run.facts().members < 2) return;
    for (const std::string& sentence : spread_sentences(run, layout))
        fmt::print("  all      {}\n", sentence);
}

void print_text(const std::string& path, const Trajectory& run, const Layout& layout) {
    const RunProvenance& facts = run.facts();
    const BedGrid& bed = run.bed_grid();
    fmt::print("{}: {}\n", escape_control(path), escape_control(run.title()));
    fmt::print("  period   {}\n", horizon_text(run));
    fmt::print("  made by  bedshade {} (model {}), seed {}, {} member{}\n",
               escape_control(facts.program_version), escape_control(facts.model_version),
               facts.seed, facts.members, facts.members == 1 ? "" : "s");
    fmt::print("  contents {} corals, a bed of {} x {} cells{}; {:.1f} MB\n", run.colonies().size(),
               bed.nx, bed.ny, run.flow() ? ", the flow of the water" : "",
               1e-6 * static_cast<double>(std::filesystem::file_size(path)));
    fmt::print("  SHA-256  {} of the layout\n           {} of the traits\n",
               sha256_hex(facts.layout_text), sha256_hex(facts.traits_text));
    print_flags(run, layout);
    for (const EventRecord& event : run.events())
        if (event.member == 0)
            fmt::print("  {}  {}\n", date_at(run.start(), event.day_d), escape_control(event.text));
}

void print_json(const std::string& path, const Trajectory& run, const Layout& layout) {
    using nlohmann::ordered_json;
    ordered_json colonies = ordered_json::array(), flags = ordered_json::array();
    for (const ColonyFacts& colony : run.colonies())
        colonies.push_back({{"name", colony.name}, {"taxon", colony.taxon}});
    for (const Flag& flag : reporting_order(layout, flags_of_member(run.flags(), 0)))
        flags.push_back(flag_text(layout, flag));
    const RunProvenance& facts = run.facts();
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
                                   {"layout_sha256", sha256_hex(facts.layout_text)},
                                   {"traits_sha256", sha256_hex(facts.traits_text)},
                                   {"colonies", colonies},
                                   {"flags", flags},
                                   {"spreads", spread_sentences(run, layout)}};
    fmt::print("{}", json_text(document));
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
    "what a trajectory contains: period, seed, versions, checksums, flags and events",
    "An unfinished run (RUN.h5.part) is described up to its last step.\n"
    "  bedshade describe my_tank.h5",
    [](po::options_description&) {},
    run,
    kTakesJson};

}  // namespace bedshade
