#include "model/reef/taxon.h"

namespace bedshade {

const char* to_string(Form form) {
    switch (form) {
        case Form::laminar:
            return "laminar";
        case Form::tabular:
            return "tabular";
        case Form::branching:
            return "branching";
        case Form::massive:
            return "massive";
        case Form::encrusting:
            return "encrusting";
        case Form::columnar:
            return "columnar";
        case Form::phaceloid:
            return "phaceloid";
        case Form::solitary:
            return "solitary";
        case Form::free_living_disc:
            return "free-living-disc";
        case Form::bowl:
            return "bowl";
        case Form::stalked_soft:
            return "stalked-soft";
        case Form::mat:
            return "mat";
    }
    return "unknown";
}

const char* to_string(Confidence confidence) {
    switch (confidence) {
        case Confidence::read:
            return "read";
        case Confidence::mixed:
            return "mixed";
        case Confidence::analog:
            return "analog";
        case Confidence::memory:
            return "memory";
        case Confidence::practice:
            return "practice";
    }
    return "unknown";
}

}  // namespace bedshade
