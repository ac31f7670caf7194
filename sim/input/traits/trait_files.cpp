#include "sim/input/traits/trait_files.h"

#include "sim/input/text/text_file.h"

namespace bedshade {

void overlay_file(const std::filesystem::path& path, const Place& named_at, TraitTable& traits,
                  Diagnostics& diagnostics) {
    const auto text = read_text_file(path, named_at, diagnostics);
    if (!text) return;
    try {
        traits.overlay(*text, path.string());
    } catch (const InputError& error) {
        diagnostics.adopt(error.diagnostics());
    }
}

TraitTable traits_with(const std::vector<std::filesystem::path>& files) {
    TraitTable traits = builtin_traits();
    Diagnostics diagnostics;
    for (const auto& file : files) overlay_file(file, {file.string()}, traits, diagnostics);
    diagnostics.throw_if_any();
    return traits;
}

}  // namespace bedshade
