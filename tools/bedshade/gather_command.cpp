// bedshade gather: what a batch found, ranked.
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/atomic_file.h"
#include "sim/base/number_text.h"
#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/batch/batch_run.h"
#include "sim/batch/gather.h"
#include "sim/batch/ranking_page.h"
#include "sim/verdict/ensemble.h"

#include "tools/bedshade/arguments.h"
#include "tools/bedshade/option_values.h"
#include "tools/bedshade/output_options.h"
#include "tools/bedshade/run_pages.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

ScoreWeights weights_of(const Arguments& arguments) {
    ScoreWeights weights;
    if (!arguments.has("weight")) return weights;
    for (const std::string& text : arguments.value<std::vector<std::string>>("weight")) {
        const std::size_t equals = text.find('=');
        const auto value = number_in(equals == std::string::npos ? "" : text.substr(equals + 1));
        const bool read = value && std::abs(*value) <= 1e6;
        if (read && set_weight(weights, text.substr(0, equals), *value)) continue;
        std::string known;
        for (const auto& [name, ignored] : named_weights(weights))
            known += (known.empty() ? "" : ", ") + name;
        throw UsageError(
            fmt::format("--weight is '{}'; allowed: NAME=NUMBER, where NAME is one of {}",
                        escape_control(text), known));
    }
    return weights;
}

std::string weights_text(const ScoreWeights& weights) {
    std::string text;
    for (const auto& [name, weight] : named_weights(weights)) {
        const double value = name == "flags" ? -weight : weight;
        if (value == 0.0) continue;
        const char* sign = value < 0.0 ? (text.empty() ? "-" : " - ") : (text.empty() ? "" : " + ");
        text += fmt::format("{}{:g} {}", sign, std::abs(value), name);
    }
    return text.empty() ? "0" : text;
}

/// How far the members of a run are apart, and how many raised a flag.
std::string uncertainty_text(const BatchRow& row) {
    if (row.members <= 1) return {};
    const ShareInterval share = share_interval(row.members_flagged, row.members);
    return fmt::format(
        "\n        worst margin {:+.2f} to {:+.2f} in 80 % of the members; {} of {} raise a flag "
        "({:.0f} to {:.0f} %)",
        row.worst_low, row.worst_high, row.members_flagged, row.members, 100.0 * share.low,
        100.0 * share.high);
}

void print_row(std::size_t rank, const RankedRow& ranked) {
    const BatchRow& row = ranked.row;
    fmt::print("  {:>4}  {:+7.3f}  {}\n        worst margin {:+.2f}{}; {}{}\n", rank, ranked.score,
               escape_control(run_words(row.layout, row.settings)), row.worst,
               row.worst_of.empty() ? "" : fmt::format(" ({})", escape_control(row.worst_of)),
               row.flags.empty() ? std::string("no flags") : escape_control(row.flags),
               uncertainty_text(row));
}

std::size_t count(const Ranking& ranking, RunOutcome outcome) {
    std::size_t found = 0;
    for (const RankedRow& ranked : ranking.rows) found += ranked.row.outcome == outcome ? 1 : 0;
    return found;
}

void print_ranking(const Ranking& ranking, std::size_t top) {
    const std::size_t done = count(ranking, RunOutcome::done);
    fmt::print("{} runs done, {} refused, {} failed. Score: {}.\n\n", done,
               count(ranking, RunOutcome::refused), count(ranking, RunOutcome::failed),
               weights_text(ranking.weights));
    for (std::size_t i = 0; i < std::min(top, done); ++i) print_row(i + 1, ranking.rows[i]);
    if (done > top) fmt::print("  and {} more\n", done - top);
    std::size_t listed = 0;
    for (const RankedRow& ranked : ranking.rows)
        if (ranked.row.outcome != RunOutcome::done && listed++ < 5)
            fmt::print("  {}  {}: {}\n", to_string(ranked.row.outcome),
                       escape_control(run_words(ranked.row.layout, ranked.row.settings)),
                       escape_control(ranked.row.message));
    fmt::print(
        "\nMargins: ln of available over needed (0: just enough, 0.7: twice), room in 5 cm; {:g} "
        "means no limit.\n",
        kMostMargin);
}

nlohmann::ordered_json row_document(std::size_t rank, const RankedRow& ranked) {
    auto document = nlohmann::ordered_json::parse(row_json(ranked.row));
    document["rank"] = rank;
    if (ranked.row.outcome == RunOutcome::done) document["score"] = ranked.score;
    return document;
}

void print_json(const Ranking& ranking, std::size_t top, const std::vector<std::string>& files) {
    nlohmann::ordered_json weights, rows = nlohmann::ordered_json::array();
    for (const auto& [name, value] : named_weights(ranking.weights)) weights[name] = value;
    for (std::size_t i = 0; i < std::min(top, ranking.rows.size()); ++i)
        rows.push_back(row_document(i + 1, ranking.rows[i]));
    const nlohmann::ordered_json document = {{"format", 1},
                                             {"runs", ranking.rows.size()},
                                             {"done", count(ranking, RunOutcome::done)},
                                             {"refused", count(ranking, RunOutcome::refused)},
                                             {"failed", count(ranking, RunOutcome::failed)},
                                             {"weights", weights},
                                             {"gaps", ranking.gaps},
                                             {"top", rows},
                                             {"files", files}};
    fmt::print("{}", json_text(document));
}

std::vector<std::string> outputs_of(const Arguments& arguments) {
    std::vector<std::string> files;
    for (const char* option : {"csv", "page"})
        if (const auto file = output_option(arguments, option)) files.push_back(*file);
    check_apart(arguments, {"csv", "page"});
    return files;
}

Ranking gather_words(const Arguments& arguments) {
    if (arguments.words().empty()) throw UsageError("a batch's folder is missing");
    try {
        return gather({arguments.words().begin(), arguments.words().end()}, weights_of(arguments),
                      arguments.maybe<std::string>("model"));
    } catch (const UsageError&) {
        throw;
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::runtime_error& error) {
        throw OutputError(error.what());
    }
}

int run(const Arguments& arguments) {
    const auto files = outputs_of(arguments);
    const int top = whole_within(arguments, "top", 0, 1'000'000);
    const Ranking ranking = gather_words(arguments);
    for (const std::string& gap : ranking.gaps)
        print_message("bedshade: {}\n", escape_control(gap));
    if (!ranking.gaps.empty() && arguments.has("whole")) {
        print_message("bedshade: nothing was written\n");
        return kFailed;
    }
    if (const auto file = arguments.maybe<std::string>("csv"))
        write_text(*file, ranking_csv(ranking));
    if (const auto file = arguments.maybe<std::string>("page"))
        write_text(*file, ranking_page(ranking, make_run_pages(arguments.words(), ranking, *file)));
    if (arguments.json()) {
        print_json(ranking, static_cast<std::size_t>(top), files);
        return kDone;
    }
    print_ranking(ranking, static_cast<std::size_t>(top));
    for (const std::string& file : files)
        fmt::print("The ranking is in {}.\n", escape_control(file));
    return kDone;
}

}  // namespace

const Command kGatherCommand = {
    "gather",
    "DIR... [--csv F] [--page F.html]",
    "what batches found, as one ranked table",
    "Reads folders of batches and ranks every run by a score: the\n"
    "worst margin of any coral on the bed, less a tenth for every flag. --weight changes what\n"
    "counts. Shards that have not finished are named.\n"
    "  bedshade gather night --csv night.csv --page night.html\n"
    "  bedshade gather night --weight worst=0 --weight light=1 --weight months=2",
    [](po::options_description& options) {
        options.add_options()("csv", po::value<std::string>()->value_name("F"),
                              "write the ranking as CSV there")(
            "page", po::value<std::string>()->value_name("F.html"),
            "write it as a page for a browser there")(
            "weight", po::value<std::vector<std::string>>()->value_name("NAME=W"),
            "weight of a term in the score: worst, flags, light, sand, reach, flow, tank, months "
            "(may be repeated)")("top", po::value<int>()->default_value(10)->value_name("N"),
                                 "rows to print")("model",
                                                  po::value<std::string>()->value_name("V"),
                                                  "only runs of this version of the model")(
            "whole", "fail, and write nothing, if a shard has not finished")(
            "force", "replace existing files");
    },
    run,
    kTakesJson};

}  // namespace bedshade
