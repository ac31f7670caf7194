// What a command line asks for without success, and the word that each gets.
#include <catch2/catch.hpp>
#include <utility>

#include "tests/tools/program.h"

using namespace bedshade::test;

namespace {

using Refusals = std::initializer_list<std::pair<std::string, std::string>>;

void check_all(const Refusals& refusals) {
    for (const auto& [words, reason] : refusals) check_refused(words, reason);
}

}  // namespace

TEST_CASE("a batch that cannot start reports why") {
    const Folder folder;
    fs::create_directory(folder.file("bare"));
    const std::string study = BEDSHADE_SOURCE_DIR "/scenarios/study.toml";
    check_all({
        {"batch", "a study file, layouts or a folder of them is missing"},
        {"batch " + folder.file("none.toml") + " --dry-run", "there is no file"},
        {"batch " + folder.file("bare") + " --dry-run", "has no .toml file"},
        {"batch " + study + " " + kStarving + " --dry-run", "one study is run at a time"},
        {"batch " + study, "--out DIR is missing"},
        {"batch " + study + " --dry-run --months 0", "--months is 0; allowed: 1 to 240"},
        {"batch " + study + " --dry-run --members 1001", "--members is 1001; allowed: 1 to 1000"},
        {"batch " + study + " --jobs 0 --out " + folder.file("a"),
         "--jobs is 0; allowed: 1 to 256"},
        {"batch " + study + " --shard 5/4 --out " + folder.file("a"),
         "--shard: '5/4' is not a shard"},
        {"batch " + study + " --keep most --out " + folder.file("a"),
         "--keep is 'most'; allowed: none, flagged, all, \"top N\""},
        {"batch " + study + " --keep 'top 0' --out " + folder.file("a"), "--keep is 'top 0'"},
    });
    CHECK(folder.entries() == 1);
}

TEST_CASE("invalid inputs of gather are refused") {
    const Folder folder;
    fs::create_directory(folder.file("bare"));
    write(folder.file("some.h5"), "no HDF5");
    check_all({
        {"gather", "a batch's folder is missing"},
        {"gather " + folder.file("none"), "none"},
        {"gather " + folder.file("bare"), "is not the folder of a batch"},
        {"gather " + folder.file("some.h5"), "is not the folder of a batch"},
        {"gather " + folder.file("bare") + " --top -1", "--top is -1; allowed: 0 to 1000000"},
        {"gather " + folder.file("bare") + " --weight light",
         "--weight is 'light'; allowed: NAME=NUMBER"},
        {"gather " + folder.file("bare") + " --weight beauty=2", "--weight is 'beauty=2'"},
    });
}

TEST_CASE("a new layout of an invalid size is refused") {
    const Folder folder;
    const std::string begin = "new " + folder.file("tank.toml");
    check_all({
        {begin + " --length '60 cm' --width '40 cm'", "--depth is missing"},
        {begin + " --length '1e6 km' --width '40 cm' --depth '40 cm'",
         "--length is 1e+11 cm; allowed: 5 to 2000 cm"},
        {begin + " --length '60 cm' '--width=-40 cm' --depth '40 cm'",
         "--width is -40 cm; allowed: 5 to 2000 cm"},
        {begin + " --length '60 cm' --width '40 cm' --depth '6 m'",
         "--depth is 600 cm; allowed: 5 to 500 cm"},
    });
    CHECK(folder.entries() == 0);
}

TEST_CASE("a negative count is refused, not read as a large one") {
    check_all({{"forecast " + kStarving + " --seed=-1", "'-1'"},
               {"batch " + kStarving + " --dry-run --seed=-1", "'-1'"},
               {"reference " + kStarving + " --photons=-1", "'-1'"},
               {"reference " + kStarving + " --photons 10", "--photons is 10; allowed: 1000 to"},
               {"reference " + kStarving + " --photons 1e6", "'1e6'"}});
}

TEST_CASE("no output overwrites an input or another output") {
    const Folder folder;
    const std::string tank = folder.file("tank.toml"), run_file = folder.file("run.h5");
    const std::string csv = folder.file("some.csv"), part = folder.file("gone.h5.part");
    for (const std::string& path : {tank, run_file, csv, part}) write(path, "precious");
    const auto over = [](const std::string& words, const std::string& path) {
        return words + " " + path + " --force";
    };
    check_all({
        {over("forecast " + tank + " --out", tank), "--out would overwrite"},
        {over("forecast " + tank + " --page", folder.file("./tank.toml")),
         "--page would overwrite"},
        {over("light " + tank + " --csv", tank), "--csv would overwrite"},
        {over("reference " + tank + " --csv", tank), "--csv would overwrite"},
        {over("fit " + tank + " --readings " + csv + " --out", csv), "--out would overwrite"},
        {over("trim " + tank + " --traits " + csv + " --layout", csv), "--layout would overwrite"},
        {over("arrange " + tank + " --out", tank), "--out would overwrite"},
        {over("picture " + run_file + " --month 0 --out", run_file), "--out would overwrite"},
        {over("replay " + run_file + " --out", run_file), "--out would overwrite"},
        {over("replay " + part + " --beside " + run_file + " --out", run_file), "--out would"},
        {over("rerun " + run_file + " --out", run_file), "--out would overwrite"},

        // What an output grows as.
        {"replay " + part + " --out " + folder.file("gone.h5"), "gone.h5.part'"},
        {"gather " + folder.file("night") + " --csv " + folder.file("a") + " --page " +
             folder.file("./a"),
         "--csv and --page both name"},
    });
    for (const std::string& path : {tank, run_file, csv, part}) CHECK(text_of(path) == "precious");
    CHECK(folder.entries() == 4);
}

TEST_CASE("no output overwrites a file that the layout names") {
    const Folder folder;
    const std::string traits = folder.file("own.csv"), tank = folder.file("tank.toml");
    const std::string table = "id,extension_mean_mm_yr\nfungia,5\n";
    write(traits, table);
    write(tank, "traits = [\"own.csv\"]\n" + text_of(kStarving));
    check_all({
        {"forecast " + tank + " --force --out " + traits, "--out would overwrite"},
#ifdef BEDSHADE_HAS_PAGE
        {"forecast " + tank + " --force --page " + traits, "own.csv'"},
#endif
        {"light " + tank + " --force --csv " + traits, "--csv would overwrite"},
        {"arrange " + tank + " --force --layout " + traits, "--layout would overwrite"},
    });
    CHECK(text_of(traits) == table);
}

TEST_CASE("errors of added trait tables name the table") {
    const Folder folder;
    const std::string own = folder.file("own.csv");
    const std::string check = "check " + kStarving + " --traits " + own;
    check_refused(check, "own.csv: error: there is no file");
    write(own, "id,extension_mean_mm_yr\nfungia,fast\n");
    check_refused(check, "own.csv:2:8: error: ");
    check_refused("traits --traits " + own, "own.csv:2:8: error: ");
    write(own, "id,extension_mean_mm_yr\nfungia,4.5\n");
    CHECK(run(check).code == 0);
    CHECK(holds(run("traits fungia --json --traits " + own).out, "4.5"));
    check_refused("traits fungio", "'fungio' is not in the trait table; did you mean 'fungia'?");
    check_refused("check " + kStarving + " " + kClear, "one layout file is allowed");
}

TEST_CASE("impossible advice is refused") {
    const Folder folder;
    const std::string change = folder.file("change.toml");
    check_all({
        {"trim " + kStarving + " --fragment '9 m'", "--fragment is 900 cm; allowed: "},
        {"trim " + kStarving + " --out " + change + " --layout " + change,
         "--out and --layout both name"},
        {"light " + kStarving + " --at 60,30", "--at is '60,30'; needed: three numbers in cm"},
        {"light " + kStarving + " --at 60,30,90", "is outside the water"},
        {"place " + kStarving + " --spot 45", "--spot is '45'; needed: X,Y in cm"},
    });
    const std::string held = folder.file("held.toml");
    write(held,
          "format = 1\n[season]\nstart = 2027-01-01\n[tank]\nlength = \"90 cm\"\n"
          "width = \"45 cm\"\nwater_depth = \"40 cm\"\n[[colony]]\nname = \"held\"\n"
          "taxon = \"euphyllia\"\non = \"sand\"\nposition = \"45 20 cm\"\n"
          "diameter = \"6 cm\"\nfixed = true\n");
    check_all({{"arrange " + held, "no colony may be moved: all are fixed or kept in place"},
               {"arrange " + held + " --move held", "--move: 'held' is fixed in the layout"}});
    CHECK(folder.entries() == 1);
}
