#include "sim/batch/gather.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "sim/base/text.h"
#include "sim/batch/batch_folder.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

class Gathering {
  public:
    explicit Gathering(const std::optional<std::string>& model) : model_(model) {}

    void add(const fs::path& folder) {
        if (!is_batch_folder(folder))
            throw std::runtime_error(
                fmt::format("'{}' is not the folder of a batch", escape_control(folder.string())));
        for (const fs::path& file : result_files(folder))
            read_lines(file, [&](std::string_view line) {
                if (auto row = row_from_json(line))
                    add_row(std::move(*row));
                else
                    ++unread_;
            });
        if (fs::exists(folder / "plans.jsonl"))
            read_lines(folder / "plans.jsonl",
                       [&](std::string_view line) { plans_.emplace(line); });
    }

    std::vector<BatchRow> take_rows() { return std::move(rows_); }
    const std::set<std::string>& plans() const { return plans_; }
    const std::set<std::string>& models() const { return models_; }
    std::uint64_t unread() const { return unread_; }

  private:
    void add_row(BatchRow row) {
        if (model_ && row.model != *model_) return;
        models_.insert(row.model);
        rows_.push_back(std::move(row));
    }

    std::optional<std::string> model_;
    std::vector<BatchRow> rows_;
    std::set<std::string> plans_, models_;
    std::uint64_t unread_ = 0;
};

/// Parts of a plan that were finished, by the number of parts it was cut into.
struct Progress {
    std::string title;
    std::uint64_t runs = 0;
    std::map<std::uint64_t, std::set<std::uint64_t>> begun, finished;
};

std::map<std::string, Progress> progress_of(const std::set<std::string>& lines) {
    std::map<std::string, Progress> plans;
    for (const std::string& line : lines) {
        const auto plan = nlohmann::json::parse(line, nullptr, false);
        try {
            auto& progress = plans[plan.at("plan").get<std::string>()];
            progress.title = plan.at("title").get<std::string>();
            progress.runs = plan.at("runs").get<std::uint64_t>();
            const bool finished = plan.at("state").get<std::string>() == "finished";
            auto& parts = finished ? progress.finished : progress.begun;
            parts[plan.at("of").get<std::uint64_t>()].insert(plan.at("shard").get<std::uint64_t>());
        } catch (const nlohmann::json::exception&) {
            continue;
        }
    }
    return plans;
}

bool is_whole(const Progress& progress) {
    return std::any_of(progress.finished.begin(), progress.finished.end(),
                       [](const auto& parts) { return parts.second.size() == parts.first; });
}

/// What of a plan has not been finished: of the cut that came farthest.
std::string gap_of(const std::string& fingerprint, const Progress& progress) {
    std::uint64_t cut = progress.begun.empty() ? 1 : progress.begun.begin()->first;
    std::size_t most = 0;
    for (const auto& [parts, finished] : progress.finished)
        if (finished.size() > most) most = finished.size(), cut = parts;
    const std::string name = progress.title.empty() ? fingerprint.substr(0, 8) : progress.title;
    if (cut == 1) return fmt::format("'{}' ({} runs) was not finished", name, progress.runs);
    std::string missing;
    constexpr int kMostNamed = 20;
    int named = 0;
    for (std::uint64_t part = 1; part <= cut && named <= kMostNamed; ++part) {
        const auto finished = progress.finished.find(cut);
        if (finished != progress.finished.end() && finished->second.count(part) > 0) continue;
        missing += named == kMostNamed ? std::string(" ...") : fmt::format(" {}", part);
        ++named;
    }
    return fmt::format("in '{}' ({} runs), these of {} shards were not finished:{}", name,
                       progress.runs, cut, missing);
}

/// Lines of plans, where those of a finished one are a single line: how it was cut does not matter
/// any more.
std::vector<std::string> condensed(const std::set<std::string>& lines,
                                   const std::map<std::string, Progress>& plans) {
    std::set<std::string> kept;
    for (const std::string& line : lines) {
        const auto plan = nlohmann::json::parse(line, nullptr, false);
        const auto found = plan.is_object() && plan.contains("plan") && plan["plan"].is_string()
                               ? plans.find(plan["plan"].get<std::string>())
                               : plans.end();
        if (found == plans.end()) continue;
        const bool whole = is_whole(found->second);
        kept.insert(whole ? plan_line({found->first, found->second.title, found->second.runs, {}},
                                      "finished")
                          : line);
    }
    return {kept.begin(), kept.end()};
}

std::vector<std::string> gaps_of(const Gathering& gathering,
                                 const std::map<std::string, Progress>& plans) {
    std::vector<std::string> gaps;
    for (const auto& [fingerprint, progress] : plans)
        if (!is_whole(progress)) gaps.push_back(gap_of(fingerprint, progress));
    if (gathering.unread() > 0)
        gaps.push_back(fmt::format("{} line{} of results cannot be read", gathering.unread(),
                                   gathering.unread() == 1 ? "" : "s"));
    return gaps;
}

}  // namespace

Ranking gather(const std::vector<fs::path>& from, const ScoreWeights& weights,
               const std::optional<std::string>& model) {
    Gathering gathering(model);
    for (const fs::path& each : from) gathering.add(each);
    if (gathering.models().size() > 1) {
        std::string versions;
        for (const std::string& version : gathering.models())
            versions += (versions.empty() ? "" : ", ") + escape_control(version);
        throw MixedVersions(
            fmt::format("the runs come from several versions of the model ({}), which cannot be "
                        "ranked together; --model selects one",
                        versions));
    }
    Ranking ranking;
    ranking.weights = weights;
    const auto plans = progress_of(gathering.plans());
    ranking.plans = condensed(gathering.plans(), plans);
    ranking.gaps = gaps_of(gathering, plans);
    ranking.rows = ranked(gathering.take_rows(), weights);
    return ranking;
}

}  // namespace bedshade
