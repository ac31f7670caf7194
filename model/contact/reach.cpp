#include "model/contact/reach.h"

#include <algorithm>

#include "model/contact/contact.h"

namespace bedshade {

double Reach::most_m() const { return std::max({polyps_m, sweepers_m, touch_m}); }

Reach reach_of(const Taxon& taxon, const Taxon& other) {
    return {taxon.reach_polyps_m > 0.0 ? std::max(taxon.reach_polyps_m, taxon.overhang_m) : 0.0,
            taxon.reach_sweepers_m, taxon.overhang_m + other.overhang_m + kTouch_m};
}

bool has_tissue(const ColonyState& state) {
    return state.present && state.stage != Stage::dead && state.stage != Stage::absent &&
           state.live_fraction > 0.0;
}

}  // namespace bedshade
