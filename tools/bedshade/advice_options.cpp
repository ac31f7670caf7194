#include "tools/bedshade/advice_options.h"

#include <fmt/format.h>
#include <fstream>
#include <iterator>

#include "sim/advice/change_text.h"
#include "sim/base/model_version.h"
#include "sim/base/sha256.h"
#include "sim/base/text.h"
#include "sim/base/text_output.h"

#include "tools/bedshade/cache_folder.h"
#include "tools/bedshade/output_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {
namespace {

/// Of the program's file: results are the same to the bit for one build alone.
std::string digest_of_program() {
    std::ifstream file("/proc/self/exe", std::ios::binary);
    return sha256_hex(std::string(std::istreambuf_iterator<char>(file), {}));
}

}  // namespace

void add_advice_options(po::options_description& options, int forecasts) {
    options.add_options()("forecasts", po::value<int>()->default_value(forecasts)->value_name("N"),
                          "most work, in forecasts")(
        "out", po::value<std::string>()->value_name("CHANGE.toml"),
        "write the change there, as a change file for the layout")(
        "layout", po::value<std::string>()->value_name("LAYOUT.toml"),
        "write the changed layout there, to forecast")("force", "replace existing files");
}

std::vector<std::string> AdviceFiles::names() const {
    std::vector<std::string> names;
    for (const std::string& name : {change, layout})
        if (!name.empty()) names.push_back(name);
    return names;
}

std::string AdviceFiles::text() const {
    std::string text;
    if (!change.empty()) text += fmt::format("\nThe change is in {}.\n", escape_control(change));
    if (!layout.empty())
        text += fmt::format("\nThe changed layout is in {}: bedshade forecast {} --members 64\n",
                            escape_control(layout), escape_control(layout));
    return text;
}

AdviceFiles checked_files(const Arguments& arguments) {
    AdviceFiles files{output_option(arguments, "out").value_or(""),
                      output_option(arguments, "layout").value_or("")};
    check_apart(arguments, {"out", "layout"});
    return files;
}

void write_files(const AdviceFiles& files, const Arguments& arguments, const Prepared& prepared,
                 const std::string& change) {
    if (!files.change.empty()) write_text(files.change, change);
    if (files.layout.empty()) return;
    std::string head = extending(files.layout, prepared.layout().path) + "\n";
    if (arguments.has("months"))
        head += fmt::format("[season]\nmonths = {}\n\n", prepared.layout().season.months);
    write_text(files.layout, head + change);
}

ResultCache cache_of(const Prepared& prepared, const std::string& inputs) {
    const auto folder = cache_folder();
    if (folder.empty()) return {};
    return {folder / "advice", fmt::format("{}\n{}\n{}\n{} months\n{}{}", digest_of_program(),
                                           kModelVersion, inputs, prepared.layout().season.months,
                                           prepared.file.text, prepared.file.traits_text)};
}

int report_interrupted() {
    print_message("bedshade: interrupted; nothing was written{}\n",
                  cache_folder().empty() ? "" : ". The same command continues from there");
    return kInterrupted;
}

}  // namespace bedshade
