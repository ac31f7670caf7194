// Checks that take seconds.
#include <cmath>

#include "model/flow/bed_stress.h"
#include "model/flow/jet_mixing.h"
#include "model/flow/jets.h"
#include "model/sediment/grains.h"

#include "tests/cases/cavity.h"
#include "tests/cases/exact_flows.h"
#include "tests/flow_report/check.h"

namespace bedshade::report {
namespace {

/// Water of 25 degC and 35 g/kg.
constexpr Seawater kSea{1023.34, 1023.34 * 9.373e-7};
constexpr Seawater kFresh{1000.0, 1000.0 * 1e-6};
constexpr Grain quartz(double mm) { return {mm * 1e-3, 2650.0}; }
constexpr Grain aragonite(double mm) { return {mm * 1e-3, 2850.0}; }

Section exact_flows() {
    Section section{"Exact solutions",
                    "The order of accuracy is computed from the errors on two grids: 2 means that "
                    "half the cell size gives a quarter of the error.",
                    {}};
    const double plates = cases::kPlatesFastest_m_s, coarse = cases::plates_fastest_m_s(9),
                 fine = cases::plates_fastest_m_s(27);
    const cases::DuctFlow duct = cases::square_duct(17);
    const double duct_order =
        cases::order_of(std::abs(cases::square_duct(9).mean - cases::kSquareDuct.mean),
                        std::abs(cases::square_duct(18).mean - cases::kSquareDuct.mean), 2.0);
    const double vortices = cases::vortex_error_m_s(32);
    const double jet = cases::laminar_jet_error(24);
    section.checks = {
        within_share("plane Poiseuille flow, largest speed [m/s], 27 cells", plates, fine, 0.005,
                     "exact (Poiseuille)"),
        between("plane Poiseuille flow, order of accuracy, 9 to 27 cells",
                cases::order_of(std::abs(coarse - plates), std::abs(fine - plates), 3.0), 1.85,
                2.15, "second order"),
        within_share("square duct, largest speed, 17 cells", cases::kSquareDuct.fastest,
                     duct.fastest, 0.01, "series (Shah & London 1978)"),
        within_share("square duct, mean speed, 17 cells", cases::kSquareDuct.mean, duct.mean, 0.02,
                     "series (Shah & London 1978)"),
        between("square duct, order of accuracy, 9 to 18 cells", duct_order, 1.8, 2.2,
                "second order"),
        within_share("Taylor-Green vortices, energy left after 10 s, nu 0.01, 32 cells",
                     std::exp(-0.4), cases::vortex_energy_left(32, 0.01, 10.0), 0.02,
                     "exact (Taylor & Green 1937)"),
        within_amount("Taylor-Green vortices, largest error [m/s], nu 0.05, 1 s, 32 cells", 0.0,
                      vortices, 0.01, "exact (Taylor & Green 1937)"),
        between("Taylor-Green vortices, order of accuracy, 16 to 32 cells",
                cases::order_of(cases::vortex_error_m_s(16), vortices, 2.0), 1.8, 3.5,
                "second order or better"),
        within_amount("laminar round jet, largest relative error on the axis, 24 cells", 0.0, jet,
                      0.03, "exact (Landau 1944; Schlichting 1933)"),
        between("laminar round jet, order of accuracy, 12 to 24 cells",
                cases::order_of(cases::laminar_jet_error(12), jet, 2.0), 1.6, 2.6, "second order"),
    };
    return section;
}

Section small_cavities() {
    const cases::CavityExtremes published = cases::kPlaneCavity100;
    const cases::CavityExtremes coarse = cases::plane_cavity(16, 100.0, 12.0).extremes,
                                fine = cases::plane_cavity(32, 100.0, 12.0).extremes;
    const std::string source = "Marchi et al. 2009";
    return {"Lid-driven cavity on a coarse grid",
            "Re 100, 32 cells per side; finer grids: see below.",
            {within_share("minimum u", published.least_u, fine.least_u, 0.025, source),
             within_share("maximum v", published.most_v, fine.most_v, 0.025, source),
             within_share("minimum v", published.least_v, fine.least_v, 0.025, source),
             between("order of accuracy, 16 to 32 cells",
                     cases::order_of(std::abs(coarse.least_u - published.least_u),
                                     std::abs(fine.least_u - published.least_u), 2.0),
                     1.6, 2.6, "second order")}};
}

Section jets() {
    const double flow = 5000.0 / 3.6e6, u0 = nozzle_speed_m_s(flow, 0.025);
    const Jet jet{Vec3::Zero(), Vec3::UnitX(), u0, 0.025, 0.096};
    const Jet small{Vec3::Zero(), Vec3::UnitX(), nozzle_speed_m_s(2000.0 / 3.6e6, 0.02), 0.02,
                    kJetMomentumProduct / 5.8};
    return {"Pump jets, theory",
            "5000 L/h through 25 mm unless stated; the formulas for the solver's imposed jets.",
            {within_share("thrust [N]", 4.0215, thrust_N(1023.34, flow, 0.025), 1e-3,
                          "exact, rho Q^2/A"),
             within_share("2000 L/h, 20 mm: speed on the axis at 0.5 m [m/s]", 0.4103,
                          centreline_speed_m_s(small, 0.5), 1e-3, "Hussein et al. 1994"),
             between("decay times spread, B S", kJetMomentumProduct, 0.545, 0.602,
                     "measured: 0.545 to 0.602"),
             within_share("entrainment, Q/Q0 over x/d", 0.32,
                          volume_flux_m3_s(jet, 1.0) / flow * 0.025, 0.03, "Ricou & Spalding 1961"),
             between("eddy viscosity, nu/(U0 d)",
                     jet_eddy_viscosity_m2_s(thrust_N(1.0, flow, 0.025)) / (u0 * 0.025), 0.0150,
                     0.0185, "measured: 0.0155 to 0.0185")}};
}

Section sand() {
    const double u = friction_velocity_m_s(0.2, 0.05, rough_z0_m(1e-3));
    const std::string sw = "Soulsby & Whitehouse 1997";
    return {
        "Bed stress and sediment transport",
        "Water of 25 degC and 35 g/kg unless stated; aragonite 2850, quartz 2650 kg/m3.",
        {within_share("0.2 m/s at 5 cm over 1 mm sand: friction velocity [m/s]", 0.012506, u, 1e-3,
                      "log law, by hand"),
         within_share("the same: stress [Pa]", 0.16005, kSea.density_kg_m3 * u * u, 1e-3,
                      "log law, by hand"),
         within_share("quartz 0.2 mm: critical stress [Pa]", 0.1493,
                      critical_stress_Pa(quartz(0.2), kSea), 1e-3, sw),
         within_share("aragonite 0.5 mm: critical stress [Pa]", 0.2727,
                      critical_stress_Pa(aragonite(0.5), kSea), 1e-3, sw),
         within_share("aragonite 2 mm: critical stress [Pa]", 1.4675,
                      critical_stress_Pa(aragonite(2.0), kSea), 1e-3, sw),
         within_share("quartz 1 mm: critical Shields number", 0.0351,
                      critical_shields(quartz(1.0), kSea), 0.2, "another curve: Brownlie 1981"),
         within_share("quartz 0.2 mm: settling velocity [m/s]", 0.02647,
                      settling_soulsby_m_s(quartz(0.2), kSea), 1e-3, "Soulsby 1997"),
         within_share("aragonite 1 mm: settling velocity [m/s]", 0.12617,
                      settling_soulsby_m_s(aragonite(1.0), kSea), 1e-3, "Soulsby 1997"),
         within_share("the same by another formula [m/s]", 0.13319,
                      settling_soulsby_m_s(aragonite(1.0), kSea), 0.2, "Ferguson & Church 2004"),
         within_share("the same by a third formula [m/s]", 0.13114,
                      settling_soulsby_m_s(aragonite(1.0), kSea), 0.2, "Dietrich 1982"),
         within_share("quartz 0.5 mm in fresh water of 20 degC: settling velocity [m/s]", 0.07105,
                      settling_ferguson_church_m_s(quartz(0.5), kFresh), 1e-3,
                      "Ferguson & Church 2004"),
         within_share("aragonite 0.5 mm at twice the critical stress: pickup [kg/m2/s]", 0.19237,
                      pickup_kg_m2_s(1.0, aragonite(0.5), kSea), 1e-3, "van Rijn 1984"),
         within_share("aragonite 1 mm, Shields number 0.10: bed load [m2/s]", 1.292e-5,
                      bed_load_m2_s(0.10, aragonite(1.0), kSea), 1e-3,
                      "Meyer-Peter & Mueller 1948"),
         within_share("suspended sediment at half depth, P = 1, relative to 5 % of the depth",
                      0.052632, rouse_profile(1.0, 0.5, 0.05, 1.0), 1e-4, "Rouse 1937")}};
}

}  // namespace

std::vector<Section> quick_sections() { return {exact_flows(), small_cavities(), jets(), sand()}; }

}  // namespace bedshade::report
