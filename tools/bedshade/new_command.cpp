// bedshade new: a commented layout that runs, to edit.
#include <fmt/format.h>

#include "sim/base/atomic_file.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/input/layout/new_layout.h"

#include "tools/bedshade/option_values.h"

namespace bedshade {
namespace {

/// Sides that a layout may have.
constexpr double kLeastSide_m = 0.05, kMostSide_m = 20.0, kMostDepth_m = 5.0;

int run(const Arguments& arguments) {
    const std::filesystem::path path = arguments.only_word("layout file to write");
    require_given(arguments, {"length", "width", "depth"});
    const double length_m = length_within(arguments, "length", kLeastSide_m, kMostSide_m);
    const double width_m = length_within(arguments, "width", kLeastSide_m, kMostSide_m);
    const double depth_m = length_within(arguments, "depth", kLeastSide_m, kMostDepth_m);
    check_output(path, arguments.has("force"));
    write_text(path, new_layout_text(length_m, width_m, depth_m));
    if (!arguments.quiet())
        fmt::print("{} is written. Next: edit it, then bedshade check {}\n",
                   escape_control(path.string()), escape_control(path.string()));
    return kDone;
}

}  // namespace

const Command kNewCommand = {
    "new",
    "LAYOUT.toml --length L --width W --depth D",
    "write a commented layout that runs, to edit",
    "Lengths carry their unit. The depth is of the water over the sand.\n"
    "  bedshade new my_tank.toml --length \"120 cm\" --width \"60 cm\" --depth \"55 cm\"",
    [](po::options_description& options) {
        options.add_options()("length", po::value<std::string>()->value_name("L"),
                              "inner length, along the front")(
            "width", po::value<std::string>()->value_name("W"), "inner width, front to back")(
            "depth", po::value<std::string>()->value_name("D"), "water over the sand")(
            "force", "replace an existing file");
    },
    run,
    kTakesQuiet};

}  // namespace bedshade
