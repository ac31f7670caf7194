// Small layouts built in code, for tests that need one without a file.
#pragma once

#include "model/reef/layout.h"

namespace bedshade::test {

/// Water that does nothing to light, index 1 and no absorption, nor to tissue by its warmth.
inline Water clear_water_of_index_one() {
    Water water;
    water.temperature_C = 26.0;
    water.refractive_index = 1.0;
    water.attenuation_per_m = 0.0;
    return water;
}

/// An empty black box of a tank, 2 x 2 m, with 0.5 m of clear water of index 1.
inline Layout black_tank() {
    Layout layout;
    layout.season.months = 24;
    layout.tank.length_m = 2.0;
    layout.tank.width_m = 2.0;
    layout.tank.water_depth_m = 0.5;
    for (Wall& wall : layout.tank.walls) wall.kind = WallKind::black;
    layout.substrate.reflectance = 0.0;
    layout.water = clear_water_of_index_one();
    return layout;
}

/// A coral that lives on light alone, in still water as well as anywhere, and never changes its
/// tissue's saturation.
inline Taxon plain_coral(Form form, double saturation_umol_m2_s) {
    Taxon taxon;
    taxon.id = "plain";
    taxon.form = form;
    taxon.extension_mm_yr = {0.0, 0.0, 0.0};
    taxon.vertical_per_radial = 0.0;
    taxon.max_diameter_m = 3.0;
    taxon.compensation_umol_m2_s = 0.28 * saturation_umol_m2_s;
    taxon.saturation_umol_m2_s = saturation_umol_m2_s;
    taxon.saturation_high_umol_m2_s = saturation_umol_m2_s;
    taxon.inhibition_umol_m2_s = 1e9;
    taxon.acclimation_d = 1e9;
    taxon.dli_min_mol_m2_d = 1e8;
    taxon.dli_full_mol_m2_d = 1e9;
    taxon.reserve_d = 1e6;
    taxon.burial_d = 1e6;
    taxon.flow_low_m_s = 0.0;
    taxon.flow_high_m_s = 0.002;  // its ordinary flow is still water
    return taxon;
}

inline Colony colony_at(const char* name, int taxon, const Vec3& position_m, double diameter_m,
                        double height_m) {
    Colony colony;
    colony.name = name;
    colony.taxon = taxon;
    colony.position_m = position_m;
    colony.on = position_m.z() == 0.0 ? "sand" : "";
    colony.diameter_m = diameter_m;
    colony.height_m = height_m;
    colony.settling_d = 0.0;
    return colony;
}

/// A lamp that is fully on for ten hours a day, pointing straight down.
inline Lamp lamp_at(const Vec3& centre_m, LampShape shape, double size_m, double flux_umol_s) {
    Lamp lamp;
    lamp.name = "lamp";
    lamp.centre_m = centre_m;
    lamp.shape = shape;
    lamp.size_m = Vec2(size_m, size_m);
    lamp.photon_flux_umol_s = flux_umol_s;
    lamp.day = {10.0, 20.0, 0.0};
    return lamp;
}

/// A small black tank in steps of a fortnight, with a plate under a point lamp and a dome.
inline Layout plate_and_dome(double plate_m, const Vec3& dome_m) {
    Layout layout = black_tank();
    layout.season.step_d = 14.0;
    layout.tank.length_m = layout.tank.width_m = 0.6;
    layout.lamps = {lamp_at(Vec3(0.3, 0.3, 0.9), LampShape::point, 0.0, 400.0)};
    layout.taxa = {plain_coral(Form::laminar, 100.0), plain_coral(Form::massive, 200.0)};
    layout.taxa[1].id = "dome";
    layout.colonies = {colony_at("plate", 0, Vec3(0.3, 0.3, 0.25), plate_m, 0.02),
                       colony_at("dome", 1, dome_m, 0.08, 0.03)};
    return layout;
}

}  // namespace bedshade::test
