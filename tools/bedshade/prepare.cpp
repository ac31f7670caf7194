#include "tools/bedshade/prepare.h"

#include <cstdio>
#include <fmt/format.h>

namespace bedshade {

Prepared prepare(const Arguments& arguments) {
    Prepared prepared;
    prepared.file = read_layout(arguments.only_word("layout file"), arguments.layout_options());
    if (!arguments.json() && !arguments.quiet())
        for (const Diagnostic& warning : prepared.file.warnings)
            fmt::print(stderr, "{}", render(warning));
    prepared.calibration = calibrate(prepared.layout());
    return prepared;
}

std::vector<std::string> warning_sentences(const std::vector<Diagnostic>& warnings) {
    std::vector<std::string> sentences;
    for (const Diagnostic& w : warnings)
        sentences.push_back(w.line > 0 ? fmt::format("{}:{}: {}", w.file, w.line, w.what)
                                       : fmt::format("{}: {}", w.file, w.what));
    return sentences;
}

}  // namespace bedshade
