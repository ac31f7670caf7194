// Names made to hurt, in everything the program prints and writes: a terminal must find nothing in
// them to obey, a browser no markup, a spreadsheet no formula.
#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "tests/layout_texts.h"
#include "tests/tools/program.h"

using namespace bedshade::test;

namespace {

/// Sets a terminal's title and colour, clears its screen by a control of two bytes, and more.
constexpr const char* kHurts =
    R"(\u001B]0;owned\u0007\u001B[31m\u009B2J\u007F</script><script>alert(1)</script>)";

/// A tank in which every name there is hurts.
std::string layout_text() {
    return fmt::format(fmt::runtime(R"(format = 1
title = "=title{0}"
)" + kSmallTank + R"([[lamp]]
name = "=lamp{0}"
position = "15 10 cm"
height = "15 cm"
shape = "point"
photon_flux = 4
[[rock]]
name = "=rock{0}"
shape = "slab"
centre = "15 10 10 cm"
size = "12 12 2 cm"
[[inhabitant]]
name = "=fish{0}"
does = "stir"
events_per_day = 60
mass = "1.5 g"
lift = "10 cm"
[[pump]]
name = "=pump{0}"
position = "2 10 12 cm"
toward = "28 10 12 cm"
nozzle = "20 mm"
flow = "300 L/h"
[[colony]]
name = "=disc{0}"
taxon = "fungia"
on = "sand"
position = "15 10 cm"
diameter = "5 cm"
[[colony]]
name = "@plate{0}"
taxon = "montipora-capricornis"
on = "=rock{0}"
position = "15 10 cm"
diameter = "10 cm"
[[action]]
do = "trim"
colony = "@plate{0}"
on = 2027-01-20
to = "8 cm"
)"),
                       kHurts);
}

/// Where a terminal would obey: a control character, of one byte or (U+0080 to U+009F) of two.
std::size_t obeyed(const std::string& text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : 0);
        if ((byte < 0x20 && byte != '\n') || byte == 0x7F) return i;
        if (byte == 0xC2 && next >= 0x80 && next < 0xA0) return i;
    }
    return std::string::npos;
}

void check_harmless(const std::string& what, const std::string& text) {
    const std::size_t at = obeyed(text);
    INFO(what << ": ..."
              << text.substr(at == std::string::npos ? 0 : at - std::min<std::size_t>(at, 40), 60));
    CHECK(at == std::string::npos);
}

/// Runs a command in the folder; what it prints must be harmless, and it must succeed.
void check_command(const std::string& words, int code = 0) {
    const Ran ran = run(words);
    INFO(words << "\n" << ran.err);
    CHECK(ran.code == code);
    check_harmless(words + " (output)", ran.out);
    check_harmless(words + " (errors)", ran.err);
}

/// No cell of a table begins with what a spreadsheet would work out.
void check_table(const std::string& file, const std::string& text) {
    check_harmless(file, text);
    for (const char* begin : {",=", ",\"=", "\n=", ",@", ",\"@"}) {
        INFO(file << " holds " << begin);
        CHECK_FALSE(holds(text, begin));
    }
}

class HostileFolder {
  public:
    HostileFolder() { write(file("tank.toml"), layout_text()); }
    std::string file(const std::string& name) const { return folder_.file(name); }

  private:
    Folder folder_;
};

}  // namespace

TEST_CASE("every command escapes control characters in names") {
    const HostileFolder folder;
    const std::string tank = folder.file("tank.toml"), run_file = folder.file("run.h5");
    const std::string change = folder.file("change.toml");
    write(change, fmt::format("[[colony]]\nname = \"@plate{}\"\ndiameter = \"6 cm\"\n", kHurts));
    for (const std::string words :
         {"check ", "light ", "forecast --members 2 ", "place ",
          "trim --forecasts 12 --members 2 --fresh 2 ", "arrange --forecasts 3 "}) {
        check_command(words + tank);
        check_command(words + "--json " + tank);
    }
    check_command("forecast " + tank + " --out " + run_file);
    check_command("compare --members 2 " + tank + " " + change);
    check_command("describe " + run_file);
    check_command("describe --json " + run_file);
}

TEST_CASE("formulas and markup in names are escaped in output files") {
    const HostileFolder folder;
    const std::string tank = folder.file("tank.toml"), run_file = folder.file("run.h5");
    const std::string tables = folder.file("tables"), light = folder.file("light.csv");
    check_command("light " + tank + " --csv " + light);
    check_table(light, text_of(light));
    check_command("forecast " + tank + " --out " + run_file);
    check_command("export " + run_file + " --to csv --out " + tables);
    for (const char* name : {"colonies.csv", "shade.csv", "flags.csv", "events.csv"})
        check_table(name, text_of(fs::path(tables) / name));
    check_command("picture " + run_file + " --month 1 --out " + folder.file("p.svg"));
    CHECK_FALSE(holds(text_of(folder.file("p.svg")), "<script>"));
    check_harmless("p.svg", text_of(folder.file("p.svg")));
#ifdef BEDSHADE_HAS_PAGE
    check_command("replay " + run_file + " --out " + folder.file("p.html"));
    CHECK_FALSE(holds(text_of(folder.file("p.html")), "<script>alert"));
#endif
}

TEST_CASE("names of a study are escaped on the terminal and in the ranking") {
    const HostileFolder folder;
    const std::string study = folder.file("study.toml"), night = folder.file("night");
    write(study, fmt::format("format = 1\ntitle = \"=study{0}\"\nbase = \"tank.toml\"\n[[vary]]\n"
                             "name = \"=vary{0}\"\nkey = \"lamp.=lamp{0}.photon_flux\"\n"
                             "values = [3, 4]\n",
                             kHurts));
    check_command("batch --dry-run " + study);
    check_command("batch " + study + " --out " + night);
    check_command("gather " + night + " --csv " + folder.file("n.csv") + " --page " +
                  folder.file("n.html"));
    check_table("n.csv", text_of(folder.file("n.csv")));
    CHECK_FALSE(holds(text_of(folder.file("n.html")), "<script>alert"));
}

TEST_CASE("control characters of the command line are escaped") {
    for (const char* words :
         {"'\x1b[31m'", "check '\x1b[31m.toml'",
          "check '\xc2\x9b"
          "2J'",
          "traits '\x1b[31m'", "forecast x '--\x1b[31m'", "forecast x --months '\x1b[31m'",
          "describe '\x1b]0;x.h5'", "export x.h5 --to '\x1b[31m' --out y",
          "batch x --shard '\x1b[31m' --out y", "light x --at '\x1b[31m'",
          "picture x.h5 --month '\x1b[31m' --out y"})
        check_command(words, 2);
    // Too long for a name: the system says so itself, with the path in its message.
    check_command("gather '\x1b[31m" + std::string(300, 'x') + "'", 2);
}
