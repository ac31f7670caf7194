// A program of somebody else's: which coral of a layout gets least light on its first day?
#include <algorithm>
#include <cstdio>

#include "sim/base/pool.h"
#include "sim/input/layout/layout_reader.h"
#include "sim/run/calibration.h"
#include "sim/run/forecast.h"

int main(int argc, char** argv) {
    using namespace bedshade;
    if (argc != 2) {
        std::fprintf(stderr, "usage: least_light LAYOUT\n");
        return 2;
    }
    try {
        const Layout layout = read_layout(argv[1], {}).layout;
        RunOptions options;
        options.output_scale = calibrate(layout).output_scale;
        Pool pool(allotted_processors());
        Forecast forecast(layout, options, pool.parallel_for());
        const auto found = forecast.observe(0.0).colonies;
        const auto least = std::min_element(
            found.begin(), found.end(),
            [](const auto& a, const auto& b) { return a.dli_mol_m2_d < b.dli_mol_m2_d; });
        if (least == found.end()) return 0;
        const auto index = static_cast<std::size_t>(least - found.begin());
        std::printf("%s: %.2f mol m-2 d-1\n", layout.colonies[index].name.c_str(),
                    least->dli_mol_m2_d);
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
}
