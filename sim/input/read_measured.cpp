#include "sim/input/known_to.h"
#include "sim/input/sections.h"

namespace bedshade {

void read_measured(TableReader& top, Draft& draft) {
    Measured& measured = draft.layout.measured;
    auto in = top.child("measured");
    if (!in) return;
    double factor = 1.0;
    if (in->number("output_known_to", factor, kKnownTo)) measured.output_known_to = factor;
    if (in->number("water_known_to", factor, kKnownTo)) measured.water_known_to = factor;
    in->number("water_with_output", measured.water_with_output, {-1.0, 1.0});
    in->finish();
}

}  // namespace bedshade
