// Files that fuzzing (tools/fuzz) came upon, read again: corpus/READER holds those that reach far
// into a reader, found/READER those that once broke it, each named for what was wrong.
#include <algorithm>
#include <catch2/catch.hpp>
#include <ctime>
#include <filesystem>

#include "tests/expected_messages.h"
#include "tests/fuzz/readers.h"

using namespace bedshade;
namespace fs = std::filesystem;

namespace {

/// Processor time that no file here may take: the slowest takes a tenth of it under the sanitizers.
constexpr double kLongest_s = 10.0;

std::vector<fs::path> files_in(const fs::path& folder) {
    std::vector<fs::path> files;
    if (fs::is_directory(folder))
        for (const auto& entry : fs::directory_iterator(folder)) files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    return files;
}

double processor_s() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Returns how many files there were.
std::size_t check_files(const fuzz::Reader& reader, const std::string& kind) {
    const auto files = files_in(fs::path(BEDSHADE_SOURCE_DIR) / "tests/fuzz" / kind / reader.name);
    for (const auto& file : files) {
        INFO(file);
        const std::string bytes = test::text_of(file);
        const double begun_s = processor_s();
        CHECK_NOTHROW(reader.read(bytes));
        CHECK(processor_s() - begun_s < kLongest_s);
    }
    return files.size();
}

}  // namespace

TEST_CASE("files that fuzzing came upon are read or refused, soon and in harmless words") {
    for (const fuzz::Reader& reader : fuzz::readers()) {
        INFO(reader.name);
        CHECK(check_files(reader, "corpus") > 0);
        check_files(reader, "found");
    }
}

TEST_CASE("readers come back from nothing at all, and from a byte of every kind") {
    for (const fuzz::Reader& reader : fuzz::readers()) {
        INFO(reader.name);
        CHECK_NOTHROW(reader.read({}));
        for (int byte = 0; byte < 256; byte += 5)
            CHECK_NOTHROW(reader.read(std::string(1, static_cast<char>(byte))));
    }
}
