#include "tools/bedshade/output_options.h"

#include <filesystem>
#include <fmt/format.h>
#include <map>

#include "sim/base/atomic_file.h"
#include "sim/base/text.h"

#include "tools/bedshade/option_values.h"

namespace bedshade {
namespace {

namespace fs = std::filesystem;

/// The files that the command line names to be read.
std::vector<fs::path> inputs_of(const Arguments& arguments) {
    std::vector<fs::path> inputs = arguments.layout_options().trait_files;
    inputs.insert(inputs.end(), arguments.words().begin(), arguments.words().end());
    for (const char* option : {"readings", "growth", "beside"})
        if (const auto file = arguments.maybe<std::string>(option)) inputs.emplace_back(*file);
    return inputs;
}

/// Refuses outputs that would overwrite an input, also by their temporary names.
void check_spares(const std::vector<fs::path>& inputs, const char* option,
                  const fs::path& written) {
    for (const fs::path& input : inputs)
        for (const fs::path& touched : {written, part_path(written)}) {
            std::error_code absent;
            if (fs::equivalent(touched, input, absent))
                throw UsageError(fmt::format("--{} would overwrite the input '{}'", option,
                                             escape_control(input.string())));
        }
}

/// One path for one file, however it is spelt.
fs::path identity_of(const fs::path& path) {
    std::error_code failed;
    const fs::path whole = fs::weakly_canonical(fs::absolute(path, failed), failed);
    return failed ? path.lexically_normal() : whole;
}

}  // namespace

std::optional<std::string> output_option(const Arguments& arguments, const char* option) {
    auto path = arguments.maybe<std::string>(option);
    if (!path) return path;
    check_spares(inputs_of(arguments), option, *path);
    check_output(*path, arguments.has("force"));
    return path;
}

void check_spares_opened(const Arguments& arguments, const std::vector<fs::path>& opened) {
    for (const char* option : {"out", "page", "csv", "layout"})
        if (const auto path = arguments.maybe<std::string>(option))
            check_spares(opened, option, *path);
}

std::string output_needed(const Arguments& arguments, const char* option) {
    require_given(arguments, {option});
    return *output_option(arguments, option);
}

void check_apart(const Arguments& arguments, std::initializer_list<const char*> options) {
    std::map<fs::path, const char*> named;
    for (const char* option : options) {
        const auto path = arguments.maybe<std::string>(option);
        if (!path) continue;
        const auto [other, is_new] = named.emplace(identity_of(*path), option);
        if (!is_new)
            throw UsageError(fmt::format("--{} and --{} both name '{}'", other->second, option,
                                         escape_control(*path)));
    }
}

}  // namespace bedshade
