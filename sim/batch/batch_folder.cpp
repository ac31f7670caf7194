#include "sim/batch/batch_folder.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <fmt/chrono.h>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sys/resource.h>
#include <unistd.h>
#include <vector>

#include "sim/base/atomic_file.h"
#include "sim/base/plain_text.h"
#include "sim/base/text.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

constexpr int kDone = -1, kRefused = -2;
constexpr int kMostProcesses = 9999;
constexpr const char* kMark = "batch.json";
constexpr const char* kMarkText = "{\"format\":\"bedshade batch\",\"format_version\":1}";

std::string shown(const fs::path& path) {
    return fmt::format("'{}'", escape_control(path.string()));
}

/// `night/` names the folder `night`.
fs::path without_slash(const fs::path& path) {
    return path.has_filename() ? path : path.parent_path();
}

/// Two processes may create a new folder at once.
void make_folder(const fs::path& folder) {
    std::error_code error;
    if (!fs::exists(fs::symlink_status(folder, error)) && !fs::create_directory(folder, error) &&
        error)
        throw OutputError(fmt::format("cannot make folder {}: {}", shown(folder), error.message()));
    if (!fs::is_directory(folder, error))
        throw OutputError(fmt::format("{} is not a folder", shown(folder)));
    if (!is_batch_folder(folder) && !fs::is_empty(folder, error) && !is_batch_folder(folder))
        throw OutputError(fmt::format("{} is not empty and not a batch folder; name a new folder",
                                      shown(folder)));
    LineFile mark(folder / kMark);
    mark.lock();
    mark.mend();
    bool marked = false;
    mark.read(0, [&](std::string_view) { marked = true; });
    if (!marked) mark.append(kMarkText, true);
    sync_folder(folder.has_parent_path() ? folder.parent_path() : fs::path("."));
}

std::string host_name() {
    std::array<char, 256> name{};
    return ::gethostname(name.data(), name.size() - 1) == 0 ? name.data() : "";
}

double peak_memory_MB() {
    struct rusage usage {};
    ::getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

std::string time_now() {
    const auto now =
        std::chrono::time_point_cast<std::chrono::seconds>(std::chrono::system_clock::now());
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(now));
}

std::string journal_line(const BatchRow& row, const RunCost& cost) {
    ordered_json line = {{"key", row.key},          {"outcome", to_string(row.outcome)},
                         {"run", cost.number},      {"wall_s", cost.wall_s},
                         {"model_s", cost.model_s}, {"peak_memory_MB", peak_memory_MB()},
                         {"host", host_name()},     {"process", ::getpid()},
                         {"ended", time_now()}};
    if (!row.message.empty()) line["message"] = row.message;
    return json_line(line);
}

/// The number in results-0007.jsonl; 0 for another name.
int number_in(const std::string& name) {
    constexpr std::string_view kBefore = "results-", kAfter = ".jsonl";
    if (name.size() != kBefore.size() + 4 + kAfter.size() || name.rfind(kBefore, 0) != 0 ||
        name.substr(kBefore.size() + 4) != kAfter)
        return 0;
    int number = 0;
    std::from_chars(&name[kBefore.size()], &name[kBefore.size() + 4], number);
    return number;
}

std::vector<int> numbers_in(const fs::path& folder) {
    std::vector<int> numbers;
    for (const auto& entry : fs::directory_iterator(folder))
        if (const int number = number_in(entry.path().filename().string()); number > 0)
            numbers.push_back(number);
    std::sort(numbers.begin(), numbers.end());
    return numbers;
}

}  // namespace

std::string plan_line(const PlanFacts& plan, const char* state) {
    const ordered_json line = {{"plan", plan.fingerprint}, {"title", plan.title},
                               {"runs", plan.runs},        {"shard", plan.shard.index},
                               {"of", plan.shard.count},   {"state", state}};
    return json_line(line);
}

bool is_batch_folder(const fs::path& folder) {
    std::error_code error;
    return fs::is_regular_file(folder / kMark, error);
}

std::vector<fs::path> result_files(const fs::path& folder) {
    std::vector<fs::path> files;
    for (const int number : numbers_in(folder))
        files.push_back(folder / fmt::format("results-{:04}.jsonl", number));
    return files;
}

std::uint64_t finished_runs(const fs::path& folder) {
    std::uint64_t count = 0;
    for (const fs::path& file : result_files(folder))
        read_lines(file, [&](std::string_view line) {
            const auto head = row_head(line);
            count += head && head->outcome != RunOutcome::failed ? 1 : 0;
        });
    return count;
}

BatchFolder::BatchFolder(const fs::path& folder) : folder_(without_slash(folder)) {
    try {
        make_folder(folder_);
        claims_ = std::make_unique<LineFile>(folder_ / "claims");
        claims_->lock();
        open_own_files();
        if (others_live()) {
            claims_->append(fmt::format("{} start", number_), false);
        } else {
            claims_->clear();
        }
        for (const int number : numbers_in(folder_)) read_results(number);
        read_claims();
        claims_->unlock();
        sync_folder(folder_);
    } catch (const OutputError&) {
        throw;
    } catch (const std::runtime_error& error) {
        throw OutputError(error.what());
    }
}

BatchFolder::~BatchFolder() = default;

fs::path BatchFolder::file(const char* kind, int number) const {
    return folder_ / fmt::format("{}-{:04}.jsonl", kind, number);
}

/// Takes over the first pair of files that no living process has, or makes one.
void BatchFolder::open_own_files() {
    for (int number = 1; number <= kMostProcesses; ++number) {
        auto results = std::make_unique<LineFile>(file("results", number));
        if (!results->lock_now()) continue;
        number_ = number;
        results_ = std::move(results);
        results_->mend();
        journal_ = std::make_unique<LineFile>(file("journal", number));
        journal_->mend();
        return;
    }
    throw OutputError(
        fmt::format("{} processes already work in {}", kMostProcesses, shown(folder_)));
}

bool BatchFolder::lives(int number) const {
    if (number == number_) return true;
    std::error_code error;
    if (!fs::exists(file("results", number), error)) return false;
    return !LineFile(file("results", number)).lock_now();
}

bool BatchFolder::others_live() const {
    for (const int number : numbers_in(folder_))
        if (number != number_ && lives(number)) return true;
    return false;
}

BatchFolder::Key BatchFolder::packed(std::string_view key) {
    Key packed{};
    for (std::size_t half = 0; half < 2; ++half)
        std::from_chars(key.data() + 16 * half, key.data() + 16 * (half + 1), packed.half[half],
                        16);
    return packed;
}

/// Failed runs are left out: they are tried again.
void BatchFolder::read_results(int number) {
    auto& read = results_read_[number];
    read = LineFile(file("results", number)).read(read, [&](std::string_view line) {
        const auto head = row_head(line);
        if (head && head->outcome != RunOutcome::failed)
            state_[packed(head->key)] = head->outcome == RunOutcome::done ? kDone : kRefused;
    });
}

/// Lines are "7 KEY", and "7 start" where a new process has taken the number.
void BatchFolder::read_claims() {
    bool restarted = false;
    claims_read_ = claims_->read(claims_read_, [&](std::string_view line) {
        int number = 0;
        const auto [end, error] = std::from_chars(line.data(), line.data() + line.size(), number);
        if (error != std::errc() || end == line.data() + line.size()) return;
        const std::string_view word(end + 1,
                                    static_cast<std::size_t>(line.data() + line.size() - end - 1));
        if (word == "start") {
            // Also what an earlier process of this one's number had claimed.
            restarted = true;
            std::erase_if(state_, [&](const auto& each) { return each.second == number; });
        } else if (word.size() == kKeyDigits) {
            auto& state = state_.try_emplace(packed(word), number).first->second;
            if (state >= 0) state = number;
        }
    });
    if (!restarted) return;
    for (const int number : numbers_in(folder_))
        if (number != number_) read_results(number);
}

BatchFolder::Claim BatchFolder::take(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const Key wanted = packed(key);
    const auto answer = [&]() -> std::optional<Claim> {
        const auto found = state_.find(wanted);
        if (found == state_.end()) return std::nullopt;
        if (found->second == kDone) return Claim::done;
        if (found->second == kRefused) return Claim::refused;
        if (found->second == number_) return Claim::taken;
        return std::nullopt;
    };
    if (const auto known = answer()) return *known;
    claims_->lock();
    std::optional<Claim> acquire;
    read_claims();
    const auto found = state_.find(wanted);
    if (found != state_.end() && found->second > 0 && found->second != number_) {
        const int owner = found->second;
        if (lives(owner))
            acquire = Claim::elsewhere;
        else
            read_results(owner);  // it may have finished this one before it ended
    }
    if (!acquire) acquire = answer();
    if (!acquire) {
        claims_->append(fmt::format("{} {}", number_, key), false);
        state_[wanted] = number_;
        acquire = Claim::mine;
    }
    claims_->unlock();
    return *acquire;
}

void BatchFolder::refresh() {
    const std::lock_guard lock(mutex_);
    for (const int number : numbers_in(folder_))
        if (number != number_) read_results(number);
}

void BatchFolder::record(const BatchRow& row, const RunCost& cost) {
    const std::lock_guard lock(mutex_);
    results_->append(row_json(row), true);
    journal_->append(journal_line(row, cost), true);
    if (row.outcome == RunOutcome::done) state_[packed(row.key)] = kDone;
    if (row.outcome == RunOutcome::refused) state_[packed(row.key)] = kRefused;
}

void BatchFolder::note_plan(const PlanFacts& plan, const char* state) {
    const std::lock_guard lock(mutex_);
    const std::string text = plan_line(plan, state);
    LineFile plans(folder_ / "plans.jsonl");
    plans.lock();
    plans.mend();
    bool known = false;
    plans.read(0, [&](std::string_view found) { known = known || found == text; });
    if (!known) plans.append(text, true);
}

fs::path BatchFolder::run_file(const std::string& key) {
    const fs::path runs = folder_ / "runs";
    std::error_code error;
    if (fs::create_directory(runs, error)) sync_folder(folder_);
    if (!fs::is_directory(runs))
        throw std::runtime_error(
            fmt::format("cannot make folder {}: {}", shown(runs), error.message()));
    return runs / (key + ".h5");
}

}  // namespace bedshade
