// Files that are too large, too deep, too many, or no files at all: refused in words, and quickly.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

#include "model/base/random.h"

#include "sim/input/layout/layout_reader.h"
#include "sim/input/text/diagnostics.h"

#include "tests/layout_texts.h"

using namespace bedshade;
using namespace bedshade::test;
namespace fs = std::filesystem;

namespace {

/// What a text is refused with; empty when it is read.
std::vector<Diagnostic> errors_in(const std::string& text) {
    try {
        read_layout_text(text, "layout.toml");
    } catch (const InputError& error) {
        return error.diagnostics();
    }
    return {};
}

std::string refusal_of(const fs::path& path) {
    try {
        read_layout(path);
    } catch (const InputError& error) {
        return error.diagnostics().front().what;
    }
    return {};
}

std::string first_error(const std::string& text) {
    const auto errors = errors_in(text);
    return errors.empty() ? std::string() : errors.front().what;
}

std::string colonies(int count) {
    std::string text = kTankUnderLamp;
    for (int i = 0; i < count; ++i)
        text += fmt::format(
            "[[colony]]\nname = \"c{}\"\ntaxon = \"fungia\"\non = \"sand\"\nposition = \"{} {} "
            "cm\"\ndiameter = \"2 cm\"\n",
            i, 1 + i % 118, 1 + i / 118 % 58);
    return text;
}

std::string repeated(const std::string& piece, int times) {
    std::string text;
    for (int i = 0; i < times; ++i) text += piece;
    return text;
}

class TempFolder {
  public:
    TempFolder()
        : path_(fs::temp_directory_path() /
                ("bedshade_hostile_files_" + std::to_string(getpid()))) {
        fs::remove_all(path_);
        fs::create_directories(path_);
    }
    ~TempFolder() { fs::remove_all(path_); }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;
    fs::path operator/(const char* name) const { return path_ / name; }
    const fs::path& path() const { return path_; }

  private:
    fs::path path_;
};

}  // namespace

TEST_CASE("an unreadable file is refused with its kind") {
    const TempFolder folder;
    CHECK(refusal_of(folder / "none.toml").find("there is no file `") == 0);
    CHECK(refusal_of(folder.path()).find("is a folder, not a file") != std::string::npos);
    CHECK(refusal_of("/dev/zero").find("is not an ordinary file") != std::string::npos);
}

TEST_CASE("a file with ten million colonies is refused by its size") {
    const TempFolder folder;
    const fs::path path = folder / "ten_million.toml";
    std::ofstream(path) << kTankUnderLamp;
    // Ten million colonies of at least 90 bytes; the file is sparse, so it takes no room.
    fs::resize_file(path, std::uintmax_t{900} << 20U);
    const std::string refusal = refusal_of(path);
    CHECK(refusal.find("has 900.0 MB, but at most 8.0 MB are read") != std::string::npos);
}

TEST_CASE("five thousand colonies are read and one more is refused by number") {
    CHECK(errors_in(colonies(5000)).empty());
    CHECK(first_error(colonies(5001)) ==
          "there are 5001 of [[colony]], but at most 5000 are allowed");
}

TEST_CASE("thousands of overlapping corals give a hundred warnings") {
    // With thousands of actions beside them, each pair cost a look at them all.
    std::string text = kTankUnderLamp;
    for (int i = 0; i < 5000; ++i)
        text += fmt::format(
            "[[colony]]\nname = \"c{}\"\ntaxon = \"fungia\"\non = \"sand\"\nposition = \"60 30 "
            "cm\"\ndiameter = \"7 cm\"\n",
            i);
    text += repeated("[[action]]\nmonth = 3\ndo = \"remove\"\ncolony = \"c0\"\n", 9000);
    CHECK(read_layout_text(text, "crowd.toml").warnings.size() == kMostErrorsShown);
}

TEST_CASE("every list has its limit") {
    struct List {
        const char* item;
        int most;
    };
    for (const auto& list :
         {List{"lamp", 200}, List{"pump", 500}, List{"rock", 2000}, List{"inhabitant", 500},
          List{"reading", 10000}, List{"action", 10000}, List{"substrate.patch", 500}}) {
        std::string text = "format = 1\n";
        for (int i = 0; i <= list.most; ++i)
            text += fmt::format(
                "[[{}]]\n{}", list.item,
                std::string_view(list.item) == "reading" || std::string_view(list.item) == "action"
                    ? std::string()
                    : fmt::format("name = \"{}\"\n", i));
        bool reported = false;
        for (const auto& error : errors_in(text))
            reported |= error.what.find(fmt::format("but at most {} are allowed", list.most)) !=
                        std::string::npos;
        INFO(list.item);
        CHECK(reported);
    }
}

TEST_CASE("deep nesting of every kind is refused and does not overflow the stack") {
    constexpr int kDeep = 200000;
    CHECK(first_error("a = " + std::string(kDeep, '[')).find("this is not TOML") == 0);
    CHECK(first_error("a = " + repeated("{a=", kDeep)).find("this is not TOML") == 0);
    const std::string dots = repeated("a.", kDeep);
    CHECK(first_error(dots + "a = 1") == "a key here is nested more than 32 deep");
    CHECK(first_error("[" + dots + "a]") == "a key here is nested more than 32 deep");
    CHECK(first_error("x = { " + dots + "a = 1 }") == "a key here is nested more than 32 deep");
    CHECK(first_error(repeated("\"a\" . ", kDeep) + "a = 1") ==
          "a key here is nested more than 32 deep");
    // A key held open by escapes, quotes or comments must not hide the dots.
    CHECK(first_error("s = \"\\\"\" # \"\n" + dots + "a = 1") ==
          "a key here is nested more than 32 deep");
    CHECK(first_error("s = '''\n'''\n" + dots + "a = 1") ==
          "a key here is nested more than 32 deep");
    // Dots inside texts and comments are no keys.
    CHECK(errors_in(kTankUnderLamp + "# " + dots + "\n").empty());
}

TEST_CASE("thousands of errors are counted, a hundred are shown") {
    std::string text = kTankUnderLamp;
    for (int i = 0; i < 3000; ++i) text += fmt::format("[[colony]]\nname = \"c{}\"\n", i);
    const auto errors = errors_in(text);
    REQUIRE(errors.size() == 101);
    CHECK(errors.back().what.find("more problems are not shown") != std::string::npos);
}

TEST_CASE("a chain of layouts that extend one another has an end") {
    const TempFolder folder;
    for (int i = 0; i < 40; ++i)
        std::ofstream(folder.path() / fmt::format("{}.toml", i))
            << fmt::format("extends = \"{}.toml\"\n", i + 1);
    CHECK(refusal_of(folder / "0.toml") == "more than 16 layouts extend one another here");
}

TEST_CASE("layouts with random changed bytes are read or refused without a crash") {
    const std::string whole = colonies(3) + R"([[pump]]
name = "p"
position = ["2 cm", "30 cm", "40 cm"]
toward = "60 30 20 cm"
flow = "800 gallon/h"
program = { kind = "pulse", period = "4 s", duty = 0.5 }
[[rock]]
name = "r"
shape = "slab"
centre = "60 30 10 cm"
size = "20 20 4 cm"
tilt = "10 deg"
)";
    REQUIRE(errors_in(whole).empty());
    RandomStream random(1, 0, Process::bioturbation, 0, 0);
    const std::string pool = "\"'[]{}=.,#\\\n\t 0123456789eE+-abcmnf\xC3\x01";
    const auto pick = [&](std::size_t size) {
        return static_cast<std::size_t>(random.uniform() * static_cast<double>(size));
    };
    int refused = 0;
    for (int round = 0; round < 3000; ++round) {
        std::string text = whole;
        for (int i = 0; i < 1 + round % 4; ++i) text[pick(text.size())] = pool[pick(pool.size())];
        const auto errors = errors_in(text);
        refused += !errors.empty();
        for (const auto& error : errors) {
            CHECK_FALSE(error.what.empty());
            CHECK(render(error).find('\x01') == std::string::npos);
        }
    }
    CHECK(refused > 1500);
}
