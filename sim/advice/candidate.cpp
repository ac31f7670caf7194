#include "sim/advice/candidate.h"

#include <algorithm>

#include "model/growth/energy.h"
#include "model/growth/forms.h"

namespace bedshade {
namespace {

/// A usual piece: how far across, and how high against that.
struct Piece {
    double diameter_m, height_share;
};

Piece usual_piece(Form form) {
    switch (form) {
        case Form::laminar:
            return {0.05, 0.4};
        case Form::tabular:
            return {0.05, 0.5};
        case Form::branching:
            return {0.04, 0.8};
        case Form::massive:
            return {0.05, 0.6};
        case Form::encrusting:
            return {0.04, 0.2};
        case Form::columnar:
            return {0.05, 1.0};
        case Form::phaceloid:
            return {0.06, 0.7};
        case Form::solitary:
            return {0.06, 0.65};
        case Form::free_living_disc:
            return {0.07, 0.35};
        case Form::bowl:
            return {0.06, 0.5};
        case Form::stalked_soft:
            return {0.06, 1.0};
        case Form::mat:
            return {0.05, 0.25};
    }
    return {0.05, 0.5};
}

/// A kind that stays small is set in at this share of the size it grows to.
constexpr double kOfFullSize = 0.65;

ColonyShape shape_when_set(const Candidate& candidate) {
    ColonyShape shape;
    shape.form = candidate.taxon.form;
    shape.radius_m.fill(0.5 * candidate.diameter_m);
    shape.height_m = candidate.height_m;
    return shape;
}

double light_height_of(const Candidate& candidate) {
    double area = 0.0, height = 0.0;
    for (const LivePatch& patch : live_patches(shape_when_set(candidate))) {
        area += patch.area_m2;
        height += patch.area_m2 * patch.position_m.z();
    }
    return height / area / candidate.height_m;
}

}  // namespace

Candidate candidate_of(const Taxon& taxon, std::optional<double> diameter_m) {
    const Piece piece = usual_piece(taxon.form);
    Candidate candidate;
    candidate.taxon = taxon;
    candidate.diameter_m =
        std::min(diameter_m.value_or(piece.diameter_m),
                 diameter_m ? taxon.max_diameter_m : kOfFullSize * taxon.max_diameter_m);
    candidate.height_m = piece.height_share * candidate.diameter_m;
    candidate.full_growth_net = full_growth_net_carbon(taxon);
    candidate.light_height = light_height_of(candidate);
    return candidate;
}

Colony colony_of(const Candidate& candidate, int taxon, const Vec2& site_m) {
    Colony colony;
    colony.name = "new " + candidate.taxon.id;
    colony.taxon = taxon;
    colony.position_m = Vec3(site_m.x(), site_m.y(), 0.0);
    colony.on = "sand";
    colony.diameter_m = candidate.diameter_m;
    colony.height_m = candidate.height_m;
    return colony;
}

}  // namespace bedshade
