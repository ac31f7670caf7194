#include "sim/input/trait_files.h"

#include "sim/input/text_file.h"

namespace bedshade {

void lay_over_file(const std::filesystem::path& path, const Place& asked_from, TraitTable& traits,
                   Problems& problems) {
    const auto text = read_text_file(path, asked_from, problems);
    if (!text) return;
    try {
        traits.lay_over(*text, path.string());
    } catch (const InputError& error) {
        problems.adopt(error.diagnostics());
    }
}

TraitTable traits_with(const std::vector<std::filesystem::path>& files) {
    TraitTable traits = builtin_traits();
    Problems problems;
    for (const auto& file : files) lay_over_file(file, {file.string()}, traits, problems);
    problems.throw_if_any();
    return traits;
}

}  // namespace bedshade
