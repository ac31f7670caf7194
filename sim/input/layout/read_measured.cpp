#include "sim/input/layout/sections.h"
#include "sim/input/layout/uncertainty_factor.h"

namespace bedshade {

void read_measured(TableReader& top, LayoutBuilder& builder) {
    Measured& measured = builder.layout.measured;
    auto in = top.child("measured");
    if (!in) return;
    double factor = 1.0;
    if (in->number("output_known_to", factor, kUncertaintyFactor))
        measured.output_known_to = factor;
    if (in->number("water_known_to", factor, kUncertaintyFactor)) measured.water_known_to = factor;
    in->number("water_with_output", measured.water_with_output, {-1.0, 1.0});
    in->finish();
}

}  // namespace bedshade
