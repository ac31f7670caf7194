// Default values of a layout file.
//
// Most defaults are in the types of model/reef:
//   season   months 24, step 7 d, use_readings true
//   tank     rim 0, walls glass, cover 1 (none)
//   substrate grain 1 mm, density 2750 kg/m3, porosity 0.45, depth 5 cm, reflectance 0.40
//   water    temperature 25.5 degC, salinity 35 g/kg, yellowing 0.1 1/m, turbidity none, no drift,
//            no seasonal swing
//   lamp     shape point (or its photometry's opening), output 1, beam_exponent 1, hung straight,
//            even photons, 10:00 to 20:00 without ramps, no ageing
//   pump     nozzle 25 mm, steady
//   rock     reflectance 0.15, rests on glass
//   colony   all alive, upright, growth factor 1, settling 6 weeks, acclimated to its own light,
//            free to move
//   reading  planar sensor
// The others are here. A file must give: format; season.start; tank length, width, water_depth;
// names of all but readings and actions; each lamp's position, height and flux; each pump's
// position, aim and flow; each rock's shape; each stirrer's events and mass; each colony's taxon,
// place and diameter; each reading's place and value; each action's time and action.
//
// All of these are our own choices without a source, made so that a short file means what its
// author would expect.
#pragma once

namespace bedshade {

/// Height of a colony whose file gives its diameter only [diameters].
inline constexpr double kHeightPerDiameter = 0.4;
/// Dry mass in the water is taken to be fine silt when no size is given [m].
inline constexpr double kTurbidityGrain_m = 10e-6;
/// How high a stirring animal lifts sand [m].
inline constexpr double kStirLift_m = 0.05;
/// Share of its period a pulsing pump runs when its duty is not given.
inline constexpr double kPulseDuty = 0.5;
/// Pumps that take turns share the time evenly.
inline constexpr double kAlternateDuty = 0.5;
// An inhabitant without a territory roams the whole floor: its centre, half its diagonal.
// A reading without a date was taken on the run's first day.

}  // namespace bedshade
