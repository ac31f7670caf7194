#include "tools/bedshade/prepare.h"

#include <fmt/format.h>

#include "sim/base/text.h"

#include "tools/bedshade/output_options.h"
#include "tools/bedshade/terminal.h"

namespace bedshade {

Prepared prepare(const Arguments& arguments) {
    Prepared prepared;
    prepared.file = read_layout(arguments.only_word("layout file"), arguments.layout_options());
    check_spares_opened(arguments, prepared.file.opened);
    if (!arguments.json() && !arguments.quiet())
        for (const Diagnostic& warning : prepared.file.warnings)
            print_message("{}", render(warning));
    prepared.calibration = calibrate(prepared.layout());
    return prepared;
}

void require_beginning(const Layout& layout, const char* command) {
    if (layout.season.from_d > 0.0)
        throw UsageError(
            fmt::format("{} needs a layout at its first day, but '{}' continues from day {:g}; "
                        "give the layout that the run began with",
                        command, escape_control(layout.path), layout.season.from_d));
}

std::vector<std::string> warning_sentences(const std::vector<Diagnostic>& warnings) {
    std::vector<std::string> sentences;
    sentences.reserve(warnings.size());
    for (const Diagnostic& w : warnings)
        sentences.push_back(w.line > 0 ? fmt::format("{}:{}: {}", w.file, w.line, w.what)
                                       : fmt::format("{}: {}", w.file, w.what));
    return sentences;
}

}  // namespace bedshade
