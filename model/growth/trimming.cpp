#include "model/growth/trimming.h"

#include <algorithm>

namespace bedshade {
namespace {

bool is_upright(Form form) {
    switch (form) {
        case Form::branching:
        case Form::massive:
        case Form::columnar:
        case Form::phaceloid:
        case Form::solitary:
        case Form::bowl:
        case Form::stalked_soft:
            return true;
        case Form::laminar:
        case Form::tabular:
        case Form::encrusting:
        case Form::free_living_disc:
        case Form::mat:
            break;
    }
    return false;
}

}  // namespace

double trim_to(double diameter_m, Form form, ColonyState& state) {
    const double area_m2 = planar_area_m2(state.radius_m);
    const double across_m = mean_diameter_m(state.radius_m);
    for (double& radius_m : state.radius_m) radius_m = std::min(radius_m, 0.5 * diameter_m);
    if (is_upright(form)) state.height_m *= mean_diameter_m(state.radius_m) / across_m;
    return area_m2 - planar_area_m2(state.radius_m);
}

}  // namespace bedshade
