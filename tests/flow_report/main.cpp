// Writes the flow report to standard output; exit status 1 when a check fails.
#include <cstdio>

#include "tests/flow_report/check.h"

int main() {
    using namespace bedshade::report;
    const std::vector<Section> quick = quick_sections(), slow = long_sections();
    std::fputs(whole_report(quick, slow).c_str(), stdout);
    int missed = 0;
    for (const auto* sections : {&quick, &slow})
        for (const Section& section : *sections)
            for (const Check& check : section.checks)
                if (!check.passes()) {
                    ++missed;
                    std::fprintf(stderr, "missed: %s: %s\n", section.title.c_str(),
                                 check.what.c_str());
                }
    return missed == 0 ? 0 : 1;
}
