// bedshade new: a commented layout that runs, to edit.
#include <fmt/format.h>

#include "sim/input/new_layout.h"
#include "sim/input/units.h"
#include "sim/output/output_path.h"
#include "sim/output/text_output.h"

#include "tools/bedshade/arguments.h"

namespace bedshade {
namespace {

double side_m(const Arguments& arguments, const char* option) {
    if (!arguments.has(option)) throw UsageError(fmt::format("--{} is missing", option));
    const auto text = arguments.value<std::string>(option);
    const auto read = read_quantity(text, kLength);
    if (const auto* complaint = std::get_if<Complaint>(&read))
        throw UsageError(fmt::format("--{} {}; {}", option, complaint->what, complaint->help));
    return std::get<double>(read);
}

int run(const Arguments& arguments) {
    const std::filesystem::path path = arguments.only_word("layout file to write");
    const double length = side_m(arguments, "length");
    const double width = side_m(arguments, "width");
    const double depth = side_m(arguments, "depth");
    check_output(path, arguments.has("force"));
    write_text(path, new_layout_text(length, width, depth));
    if (!arguments.quiet())
        fmt::print("{} is written. Next: edit it, then bedshade check {}\n",
                   printable(path.string()), printable(path.string()));
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
            "force", "replace a file that is there");
    },
    run,
    kTakesQuiet};

}  // namespace bedshade
