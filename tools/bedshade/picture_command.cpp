// bedshade picture: a month of a run as a drawing.
#include <fmt/format.h>

#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/export/picture.h"

#include "tools/bedshade/option_values.h"
#include "tools/bedshade/output_options.h"

namespace bedshade {
namespace {

int run(const Arguments& arguments) {
    const std::string& path = arguments.only_word("trajectory file");
    require_given(arguments, {"month"});
    const std::string out = output_needed(arguments, "out");
    const Trajectory trajectory(path);
    try {
        write_text(out, picture_svg(trajectory, arguments.value<int>("month")));
    } catch (const std::out_of_range& error) {
        throw UsageError(error.what());
    }
    if (!arguments.quiet()) fmt::print("{} is written.\n", escape_control(out));
    return kDone;
}

}  // namespace

const Command kPictureCommand = {
    "picture",
    "RUN.h5 --month M --out PLAN.svg",
    "draw a month of a run, from above and from the front",
    "The end of a month, 0 for the first day. The bed is drawn in steps of one light scale, "
    "corals\n"
    "in their true outlines with a numbered key; dead ones are dashed.\n"
    "  bedshade picture my_tank.h5 --month 12 --out month_12.svg",
    [](po::options_description& options) {
        options.add_options()("month", po::value<int>()->value_name("M"), "the month, from 0")(
            "out", po::value<std::string>()->value_name("PLAN.svg"), "write the drawing there")(
            "force", "replace an existing file");
    },
    run,
    kTakesQuiet};

}  // namespace bedshade
