// What the reader says of corals that lie loose where they may fall.
#include <catch2/catch.hpp>

#include "sim/input/layout/layout_reader.h"

#include "tests/layout_texts.h"

using namespace bedshade;
using namespace bedshade::test;

namespace {

std::string warnings_on(const std::string& taxon, const std::string& on, const std::string& more) {
    const std::string text = kTankUnderLamp + R"([[rock]]
name = "shelf"
shape = "box"
min = "20 20 0 cm"
max = "60 50 20 cm"
[[colony]]
name = "it"
diameter = "6 cm"
taxon = ")" + taxon + (on == "sand" ? "\"\nposition = \"90 30 cm" : "\"\nposition = \"40 30 cm") +
                             "\"\non = \"" + on + "\"\n" + more;
    std::string all;
    for (const auto& d : read_layout_text(text, "loose.toml").warnings) all += render(d);
    return all;
}

}  // namespace

TEST_CASE("free-living corals and loose polyps on rock give a warning, unless they are fixed") {
    CHECK_THAT(warnings_on("fungia", "shelf", ""), Catch::Contains("which lives loose on sand"));
    CHECK_THAT(warnings_on("cynarina-lacrymalis", "shelf", ""),
               Catch::Contains("lives loose and may fall from rock") &&
                   Catch::Contains("attached = true"));
    CHECK_THAT(warnings_on("euphyllia", "shelf", "attached = false\n"),
               Catch::Contains("may fall from rock"));
    CHECK(warnings_on("cynarina-lacrymalis", "shelf", "attached = true\n").empty());
    CHECK(warnings_on("euphyllia", "shelf", "").empty());
    CHECK(warnings_on("fungia", "sand", "").empty());
}
