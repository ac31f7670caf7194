// Files that cannot be read, or not as what they are taken for: each told with its name.
#include "sim/input/text/text_file.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "tests/sim/batch/toy.h"
#include "tests/unprivileged.h"

using namespace bedshade;
using bedshade::test::holds_for_nobody;
using bedshade::test::ToyFolder;
using Catch::Matchers::Contains;

namespace {

namespace fs = std::filesystem;

/// What is wrong with a file of which that much is read at most; empty when nothing is.
std::string complaint(const fs::path& path, std::uintmax_t most_bytes = kLargestTextFile) {
    Diagnostics diagnostics;
    const auto bytes = read_bytes(path, most_bytes, {"asked.toml"}, diagnostics);
    CHECK(bytes.has_value() != diagnostics.any_errors());
    try {
        diagnostics.throw_if_any();
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("a file that cannot be opened is reported with the system's reason") {
    const ToyFolder folder;
    fs::create_symlink("loop.toml", folder / "loop.toml");
    CHECK_THAT(complaint(folder / "loop.toml"),
               Contains("asked.toml: error: `") &&
                   Contains("loop.toml` cannot be read: Too many levels of symbolic links"));
    fs::permissions(folder / "", fs::perms::others_exec, fs::perm_options::add);
    fs::permissions(folder / "toy.toml", fs::perms::none);
    CHECK(holds_for_nobody([&] {
        return complaint(folder / "toy.toml").find("toy.toml` cannot be read: Permission denied") !=
               std::string::npos;
    }));
}

TEST_CASE("a read error is reported") {
    // The first page of a process's memory can be opened and not read.
    CHECK_THAT(complaint("/proc/self/mem"),
               Contains("`/proc/self/mem` cannot be read: Input/output error"));
}

TEST_CASE("a file is read up to the size limit, whatever size it reports") {
    const ToyFolder folder;
    const fs::path file = folder.write("some.txt", std::string(200'000, 'x'));
    Diagnostics diagnostics;
    const auto whole = read_bytes(file, 200'000, {"asked.toml"}, diagnostics);
    REQUIRE(whole);
    CHECK(*whole == std::string(200'000, 'x'));
    CHECK_THAT(complaint(file, 199'999),
               Contains("some.txt` has 0.2 MB, but at most 0.2 MB are read"));
    // Says that it holds nothing, and would go on for 2^38 bytes.
    CHECK_THAT(complaint("/proc/self/pagemap", 1U << 20U),
               Contains("is longer than the 1.0 MB that are read at most") ||
                   Contains("cannot be read: Operation not permitted"));
}
