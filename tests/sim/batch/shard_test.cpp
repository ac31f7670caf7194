// Which part of a batch a process has: by its own word, or a cluster's.
#include "sim/batch/shard.h"

#include <catch2/catch.hpp>
#include <map>

using namespace bedshade;

namespace {

using Variables = std::map<std::string, std::string>;

FoundShard found_in(const Variables& variables) {
    return shard_from_environment([&](const char* name) {
        const auto found = variables.find(name);
        return found == variables.end() ? std::nullopt : std::optional(found->second);
    });
}

const Variables kSlurm = {{"SLURM_ARRAY_TASK_ID", "5"},
                          {"SLURM_ARRAY_TASK_MIN", "1"},
                          {"SLURM_ARRAY_TASK_COUNT", "4"},
                          {"SLURM_ARRAY_TASK_STEP", "2"}};
const Variables kAws = {{"AWS_BATCH_JOB_ARRAY_INDEX", "0"}, {"AWS_BATCH_JOB_ARRAY_SIZE", "10"}};
const Variables kKubernetes = {{"JOB_COMPLETION_INDEX", "7"}, {"JOB_COMPLETION_COUNT", "8"}};
const Variables kOwn = {{"BEDSHADE_SHARD_INDEX", "1"}, {"BEDSHADE_SHARD_COUNT", "2"}};

Variables together(Variables one, const Variables& other) {
    one.insert(other.begin(), other.end());
    return one;
}

}  // namespace

TEST_CASE("a shard is written I/N") {
    CHECK(parse_shard("2/4") == Shard{2, 4});
    CHECK(parse_shard("1/1").whole());
    for (const char* text : {"", "2", "0/4", "5/4", "2/0", "-1/4", "2/4x", "a/b", "1/100001",
                             "2//4", "1/99999999999999999999"})
        CHECK_THROWS_AS(parse_shard(text), ShardError);
}

TEST_CASE("shards partition the runs") {
    for (const std::uint64_t runs : {0U, 1U, 7U, 24U})
        for (const std::uint64_t count : {1U, 2U, 5U, 30U}) {
            std::uint64_t sum = 0;
            for (std::uint64_t index = 1; index <= count; ++index)
                sum += Shard{index, count}.runs_of(runs);
            CHECK(sum == runs);
        }
}

TEST_CASE("each scheduler's variables give its shard") {
    CHECK(found_in(kSlurm).shard == Shard{3, 4});
    CHECK(found_in(kAws).shard == Shard{1, 10});
    CHECK(found_in(kKubernetes).shard == Shard{8, 8});
    CHECK(found_in(kOwn).shard == Shard{2, 2});
}

TEST_CASE("if several schedulers' variables are set, the documented order decides") {
    const Variables all = together(together(kKubernetes, kAws), kSlurm);
    CHECK(found_in(together(all, kOwn)).shard == Shard{2, 2});
    CHECK(found_in(all).shard == Shard{3, 4});
    CHECK(found_in(together(kKubernetes, kAws)).shard == Shard{1, 10});
}

TEST_CASE("an incomplete pair of variables, or none, is refused") {
    CHECK_THROWS_WITH(found_in({}), Catch::Contains("--shard I/N"));
    CHECK_THROWS_WITH(found_in({{"JOB_COMPLETION_INDEX", "3"}}),
                      Catch::Contains("JOB_COMPLETION_COUNT is not"));
    CHECK_THROWS_WITH(found_in({{"SLURM_ARRAY_TASK_ID", "3"}}),
                      Catch::Contains("SLURM_ARRAY_TASK_MIN is not"));
    Variables odd = kSlurm;
    odd["SLURM_ARRAY_TASK_ID"] = std::string{"4"};
    CHECK_THROWS_WITH(found_in(odd), Catch::Contains("not evenly spaced"));
    Variables beyond = kAws;
    beyond["AWS_BATCH_JOB_ARRAY_INDEX"] = std::string{"10"};
    CHECK_THROWS_AS(found_in(beyond), ShardError);
    Variables word = kAws;
    word["AWS_BATCH_JOB_ARRAY_INDEX"] = std::string{"two"};
    CHECK_THROWS_WITH(found_in(word), Catch::Contains("not a whole number"));
}
