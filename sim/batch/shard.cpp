#include "sim/batch/shard.h"

#include <array>
#include <charconv>
#include <fmt/format.h>
#include <string_view>

#include "sim/base/text.h"

namespace bedshade {
namespace {

constexpr std::uint64_t kMostShards = 100'000;

using Variable = std::function<std::optional<std::string>(const char*)>;

std::optional<std::uint64_t> whole_number(std::string_view text) {
    std::uint64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return number;
}

std::uint64_t number_of(const Variable& variable, const char* name, const char* partner) {
    const auto text = variable(name);
    if (!text) throw ShardError(fmt::format("{} is set, but {} is not", partner, name));
    const auto number = whole_number(*text);
    if (!number)
        throw ShardError(
            fmt::format("{} is '{}', not a whole number", name, escape_control(*text)));
    return *number;
}

FoundShard checked(std::uint64_t index_from_0, std::uint64_t count, const std::string& from) {
    if (count < 1 || count > kMostShards || index_from_0 >= count)
        throw ShardError(fmt::format("{} name shard {} of {}, which does not exist", from,
                                     index_from_0 + 1, count));
    return {{index_from_0 + 1, count}, from};
}

FoundShard counted_from_0(const Variable& variable, const char* index, const char* count) {
    return checked(number_of(variable, index, count), number_of(variable, count, index),
                   fmt::format("{} and {}", index, count));
}

FoundShard slurm_shard(const Variable& variable) {
    constexpr const char* kId = "SLURM_ARRAY_TASK_ID";
    const std::uint64_t id = number_of(variable, kId, kId);
    const std::uint64_t first = number_of(variable, "SLURM_ARRAY_TASK_MIN", kId);
    const std::uint64_t count = number_of(variable, "SLURM_ARRAY_TASK_COUNT", kId);
    const std::uint64_t step =
        variable("SLURM_ARRAY_TASK_STEP") ? number_of(variable, "SLURM_ARRAY_TASK_STEP", kId) : 1;
    // A list like 1,5,7 has no constant step, so the position of a number in it is unknown.
    if (step < 1 || id < first || (id - first) % step != 0)
        throw ShardError("the numbers of this job array are not evenly spaced; use --shard I/N");
    return checked((id - first) / step, count, "SLURM_ARRAY_TASK_ID, _MIN and _COUNT");
}

struct Pair {
    const char *index, *count;
};
constexpr Pair kOwn{"BEDSHADE_SHARD_INDEX", "BEDSHADE_SHARD_COUNT"};
constexpr std::array kAfterSlurm = {Pair{"AWS_BATCH_JOB_ARRAY_INDEX", "AWS_BATCH_JOB_ARRAY_SIZE"},
                                    Pair{"JOB_COMPLETION_INDEX", "JOB_COMPLETION_COUNT"}};

}  // namespace

Shard parse_shard(const std::string& text) {
    const std::size_t slash = text.find('/');
    if (slash != std::string::npos) {
        const std::string_view whole = text;
        const auto index = whole_number(whole.substr(0, slash));
        const auto count = whole_number(whole.substr(slash + 1));
        if (index && count && *index >= 1 && *index <= *count && *count <= kMostShards)
            return {*index, *count};
    }
    throw ShardError(fmt::format("'{}' is not a shard; write 2/4 for the second of four, or auto",
                                 escape_control(text)));
}

FoundShard shard_from_environment(const Variable& variable) {
    const auto set = [&](const Pair& pair) { return variable(pair.index) || variable(pair.count); };
    if (set(kOwn)) return counted_from_0(variable, kOwn.index, kOwn.count);
    if (variable("SLURM_ARRAY_TASK_ID")) return slurm_shard(variable);
    for (const Pair& pair : kAfterSlurm)
        if (set(pair)) return counted_from_0(variable, pair.index, pair.count);
    throw ShardError(
        "no job-array variable is set (BEDSHADE_SHARD_INDEX, SLURM_ARRAY_TASK_ID, "
        "AWS_BATCH_JOB_ARRAY_INDEX, JOB_COMPLETION_INDEX); use --shard I/N");
}

}  // namespace bedshade
