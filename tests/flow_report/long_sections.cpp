// Checks that take minutes.
#include <fmt/format.h>

#include "tests/cases/cavity.h"
#include "tests/cases/free_jet.h"
#include "tests/cases/wake.h"
#include "tests/flow_report/check.h"

namespace bedshade::report {
namespace {

void add_cavity(Section& section, double reynolds, double time_s,
                const cases::CavityExtremes& published, double share, const std::string& source) {
    const cases::CavityExtremes found = cases::plane_cavity(128, reynolds, time_s).extremes;
    const auto add = [&](const char* what, double expected, double value) {
        section.checks.push_back(within_share(fmt::format("Re {:g}: {}", reynolds, what), expected,
                                              value, share, source));
    };
    add("minimum u", published.least_u, found.least_u);
    add("maximum v", published.most_v, found.most_v);
    add("minimum v", published.least_v, found.least_v);
}

Section cavities() {
    Section section{"Lid-driven cavities", "128 cells per side.", {}};
    add_cavity(section, 100.0, 20.0, cases::kPlaneCavity100, 0.01, "Marchi et al. 2009");
    add_cavity(section, 400.0, 40.0, cases::kPlaneCavity400, 0.01, "own Newton solver");
    add_cavity(section, 1000.0, 60.0, cases::kPlaneCavity1000, 0.02, "Botella & Peyret 1998");
    return section;
}

Section cube() {
    const cases::CubeResult found = cases::driven_cube(48, 40.0);
    const std::string source = "Albensoeder & Kuhlmann 2005";
    Section section{"Lid-driven cube at Re 1000",
                    "48 cells per side; two other codes of this kind deviate by up to 0.038 (48 "
                    "cells) and 0.053 (64 cells), with root mean squares of 0.020 and 0.021.",
                    {}};
    for (const auto& s : found.u)
        section.checks.push_back(within_amount(fmt::format("u at y = {:.4f}", s.place), s.published,
                                               s.found, 0.04, source));
    for (const auto& s : found.v)
        section.checks.push_back(within_amount(fmt::format("v at x = {:.4f}", s.place), s.published,
                                               s.found, 0.04, source));
    section.checks.push_back(
        within_amount("root mean square of all deviations", 0.0, found.rms_off(), 0.02, "own"));
    return section;
}

const char* kDecaySource = "Panchapakesan & Lumley 1993; Hussein et al. 1994";

void add_decay(Section& section, const std::string& name, const cases::FreeJet& jet,
               std::initializer_list<int> diameters, double share) {
    for (const int d : diameters)
        section.checks.push_back(within_share(fmt::format("{}: on the axis at {} d [m/s]", name, d),
                                              jet.measured_m_s(d), jet.told_m_s(d), share,
                                              kDecaySource));
}

Section fitted_jet() {
    cases::FreeJet jet({});
    jet.run_to_steady_state();
    Section section{"A pump's jet in a large closed tank",
                    "5000 L/h through 25 mm, cells of 3 cm, a tank of 1.8 x 1.23 x 1.23 m; d is "
                    "the nozzle. The jet is imposed up to about 18 d; only the flow beyond is "
                    "computed by the solver. Two constants (where the grid resolves the jet, where "
                    "mixing starts) were fitted to this decay, so this section shows a fit and not "
                    "a prediction. The jets of the next section are independent.",
                    {}};
    add_decay(section, "closed", jet, {10, 15, 20, 25, 30, 35, 40}, 0.10);
    section.checks.push_back(between("growth of the half-width, 25 to 40 d", jet.spread(25, 40),
                                     0.08, 0.115, "measured: 0.094 to 0.102"));
    for (const int d : {30, 40})
        section.checks.push_back(
            within_share(fmt::format("momentum and pressure at {} d over those at 20 d", d), 1.0,
                         jet.impulse_share(d) / jet.impulse_share(20), 0.02, "conserved"));
    for (const int d : {20, 30, 40})
        section.checks.push_back(
            between(fmt::format("forward momentum alone at {} d, relative to thrust", d),
                    jet.momentum_share(d), 0.9, 1.05,
                    "conserved in open water; here part goes into pressure"));
    return section;
}

void add_open_jet(Section& section, const std::string& name, const cases::JetSetup& setup) {
    cases::FreeJet jet(setup);
    jet.run_to_steady_state();
    add_decay(section, name, jet, {20, 30, 40}, 0.10);
    section.checks.push_back(between(name + ": growth of the half-width, 25 to 40 d",
                                     jet.spread(25, 40), 0.08, 0.115, "measured: 0.094 to 0.102"));
    for (const int d : {20, 30, 40})
        section.checks.push_back(
            within_share(fmt::format("{}: forward momentum at {} d, relative to thrust", name, d),
                         1.0, jet.momentum_share(d), 0.02, "conserved"));
}

Section open_jets() {
    Section section{"Jets in open water",
                    "Inflow through the sides equals the entrainment of the exact jet of the same "
                    "thrust and viscosity, so that there is no return flow.",
                    {}};
    add_open_jet(section, "25 mm, 3 cm cells", {5000.0 / 3.6e6, 0.025, 0.03, cases::JetRoom::open});
    add_open_jet(section, "25 mm, 2.5 cm cells",
                 {5000.0 / 3.6e6, 0.025, 0.025, cases::JetRoom::open});
    add_open_jet(section, "32 mm, 3 cm cells", {4000.0 / 3.6e6, 0.032, 0.03, cases::JetRoom::open});
    return section;
}

Section wake() {
    Section section{
        "Wakes of corals",
        "The flow is solved without corals; behind each the speed is reduced by a wake with three "
        "constants (model/flow/wake.h). The reference is a solution with the corals as domes of "
        "rock. Values are root mean squares of ln(solved/modelled) over some hundred points around "
        "the domes: 0.4 is a factor of 1.5.",
        {}};
    const auto add = [&](const std::string& name, cases::WakeBed bed, const std::string& source) {
        const cases::WakeError error = cases::wake_error(bed);
        section.checks.push_back(
            between(name + ": corals neglected", error.left_out, 0.0, 0.6, source));
        section.checks.push_back(
            between(name + ": with wakes", error.with_wake, 0.0, error.left_out, source));
    };
    add("one low pump", cases::WakeBed::one_low_pump, "own solution, fitted");
    add("crossed pumps", cases::WakeBed::crossed_pumps, "own solution, fitted");
    add("a smaller tank", cases::WakeBed::not_fitted, "own solution, independent");
    return section;
}

}  // namespace

std::vector<Section> long_sections() {
    return {cavities(), cube(), fitted_jet(), open_jets(), wake()};
}

}  // namespace bedshade::report
