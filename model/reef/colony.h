// A colony as its keeper sets it.
#pragma once

#include <optional>
#include <string>

#include "model/base/geometry.h"

namespace bedshade {

struct Colony {
    std::string name;
    int taxon = 0;                   ///< index into Layout::taxa
    Vec3 position_m = Vec3::Zero();  ///< of its base
    std::string on;                  ///< "sand", a rock's name, or empty where the height was given
    double diameter_m = 0.0;
    double height_m = 0.0;
    double live_fraction = 1.0;
    double facing_azimuth_rad = 0.0, facing_tilt_rad = 0.0;
    double growth_factor = 1.0;  ///< of this colony against its taxon [1]
    /// Factor between `growth_factor` and its 95 % end, where it was measured.
    std::optional<double> growth_known_to;
    double settling_d = 42.0;  ///< no outward growth until then; 0 for an established colony
    std::optional<double> acclimated_to_dli_mol_m2_d;  ///< nothing: to its own day-0 light
    bool fixed = false;
    std::optional<bool> attached;  ///< to what it stands on; nothing: as its kind is
    std::string clone;             ///< the individual that it is a cutting of; empty: not said

    bool on_bed() const { return on == "sand"; }
};

/// Whether two are cuttings of one individual, which grow together where they meet: pairs of one
/// colony fused in Galaxea (Hidaka & Yamazato 1984).
inline bool same_clone(const Colony& a, const Colony& b) {
    return !a.clone.empty() && a.clone == b.clone && a.taxon == b.taxon;
}

}  // namespace bedshade
