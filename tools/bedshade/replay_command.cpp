// bedshade replay: a run as a page that opens in any browser.
#include <filesystem>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sim/base/plain_text.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"
#include "sim/export/replay_page.h"

#include "tools/bedshade/output_options.h"
#include "tools/bedshade/page_shell.h"

namespace bedshade {
namespace {

void report(const Trajectory& run, const std::string& out, const Arguments& arguments) {
    if (arguments.json()) {
        const nlohmann::ordered_json document = {
            {"format", 1}, {"files", {out}}, {"complete", run.complete()}};
        fmt::print("{}", json_text(document));
        return;
    }
    if (arguments.quiet()) return;
    fmt::print("{} shows the run; open it in a browser.\n", escape_control(out));
    if (!run.complete())
        fmt::print("The run is unfinished: the page shows it up to its last snapshot.\n");
}

std::string name_of(const std::string& path) { return std::filesystem::path(path).stem().string(); }

std::string page_of(const Trajectory& trajectory, const std::string& path,
                    const std::optional<std::string>& beside) {
    if (!beside) return replay_page(trajectory, page_shell());
    const Trajectory other(*beside);
    return replay_page({trajectory, name_of(path)}, {other, name_of(*beside)}, page_shell());
}

int run(const Arguments& arguments) {
    const std::string& path = arguments.only_word("trajectory file");
    const std::string out = output_needed(arguments, "out");
    const Trajectory trajectory(path);
    write_text(out, page_of(trajectory, path, arguments.maybe<std::string>("beside")));
    report(trajectory, out, arguments);
    return kDone;
}

}  // namespace

const Command kReplayCommand = {
    "replay",
    "RUN.h5 --out RUN.html",
    "a run as a page: the tank in 3-D, month by month, in any browser",
    "The page is one file that needs neither network nor server: flags as links to their month, "
    "the tank in\n"
    "3-D and from above, and every coral's light, shade, reserve, sand and size over time. An "
    "unfinished\n"
    "run (RUN.h5.part) is shown up to its last snapshot.\n"
    "  bedshade replay my_tank.h5 --out my_tank.html",
    [](po::options_description& options) {
        options.add_options()("out", po::value<std::string>()->value_name("RUN.html"),
                              "write the page there")(
            "beside", po::value<std::string>()->value_name("OTHER.h5"),
            "show another run in step with it")("force", "replace an existing file");
    },
    run,
    kTakesJson | kTakesQuiet};

}  // namespace bedshade
