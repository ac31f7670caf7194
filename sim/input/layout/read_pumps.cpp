#include <algorithm>
#include <fmt/format.h>
#include <utility>

#include "sim/base/text.h"
#include "sim/input/layout/defaults.h"
#include "sim/input/layout/places.h"
#include "sim/input/layout/sections.h"
#include "sim/input/layout/settable.h"

namespace bedshade {
namespace {

constexpr std::size_t kMostPumps = 500;
constexpr Range kPeriod{0.1, 86400.0};
/// Faster than this a jet ruffles and breaks the surface that the flow is solved under as calm
/// (common practice, no source) [m/s].
constexpr double kFastestJet_m_s = 10.0;

void read_aim(TableReader& in, Pump& pump, const LayoutBuilder& builder) {
    const bool placed = in.point("position", pump.position_m, Need::required) &&
                        in_water(in, "position", pump.position_m, builder);
    if (placed)
        if (const Rock* rock = RockIndex(builder.layout.rocks).around(pump.position_m))
            in.error("position", fmt::format("{} is inside rock \"{}\"", in.label("position"),
                                             escape_control(rock->name)));
    const auto nozzle_m = placed ? std::optional(pump.position_m) : std::nullopt;
    read_jet_aim(in, nozzle_m, pump.direction, Need::required);
}

void read_pulse(TableReader& in, Pump& pump) {
    pump.duty = kPulseDuty;
    in.quantity("period", pump.period_s, kSeconds, kPeriod, Need::required);
    in.number("duty", pump.duty, {0.01, 1.0});
    in.misplaced({"with"}, "with belongs to kind = \"alternate\"");
}

void read_alternate(TableReader& in, Pump& pump) {
    pump.duty = kAlternateDuty;
    in.quantity("period", pump.period_s, kSeconds, kPeriod, Need::required);
    in.text("with", pump.alternates_with, Need::required);
    in.misplaced({"duty"}, "pumps that alternate share the time evenly");
}

void read_program(TableReader& in, Pump& pump) {
    auto program = in.child("program");
    if (!program) return;
    program->choice<PumpProgram>("kind", pump.program,
                                 {{"steady", PumpProgram::steady},
                                  {"pulse", PumpProgram::pulse},
                                  {"alternate", PumpProgram::alternate}},
                                 Need::required);
    if (pump.program == PumpProgram::pulse)
        read_pulse(*program, pump);
    else if (pump.program == PumpProgram::alternate)
        read_alternate(*program, pump);
    else
        program->misplaced({"period", "duty", "with"}, "a steady pump has no period");
    program->finish();
}

void warn_of_fast_jet(TableReader& in, const Pump& pump) {
    const double area_m2 = 0.25 * kPi * pump.nozzle_m * pump.nozzle_m;
    const double speed_m_s = pump.flow_m3_s / area_m2;
    if (speed_m_s <= kFastestJet_m_s) return;
    in.warn(
        "flow",
        fmt::format("{}, {:.0f} L/h through {:.3g} mm, leaves its nozzle at {:.3g} m/s: the flow "
                    "is computed for jets of up to {:.3g} m/s, and is not reliable for faster ones",
                    in.label("flow"), 3.6e6 * pump.flow_m3_s, 1e3 * pump.nozzle_m, speed_m_s,
                    kFastestJet_m_s),
        "check flow and nozzle");
}

void read_pump(TableReader& in, const std::string& name, LayoutBuilder& builder) {
    Pump pump;
    pump.name = name;
    read_aim(in, pump, builder);
    in.quantity("nozzle", pump.nozzle_m, kSmallLength, {2.0, 500.0});
    in.quantity("flow", pump.flow_m3_s, kFlow, kPumpFlow, Need::required);
    warn_of_fast_jet(in, pump);
    read_program(in, pump);
    builder.layout.pumps.push_back(std::move(pump));
}

/// Pumps that take turns must name each other.
void check_partner(TableReader& in, const std::string& name, const std::vector<Pump>& pumps) {
    const auto named = [&](const std::string& wanted) {
        return std::find_if(pumps.begin(), pumps.end(),
                            [&](const Pump& p) { return p.name == wanted; });
    };
    const auto self = named(name);
    if (self == pumps.end() || self->alternates_with.empty()) return;
    const auto partner = named(self->alternates_with);
    if (partner == self)
        in.error("program", fmt::format("{} alternates with itself", in.name()));
    else if (partner == pumps.end())
        in.error("program", fmt::format("{} alternates with \"{}\", but there is no such pump",
                                        in.name(), escape_control(self->alternates_with)));
    else if (partner->alternates_with != name)
        in.warn("program",
                fmt::format("{} alternates with \"{}\", which does not alternate with it",
                            in.name(), escape_control(self->alternates_with)));
}

}  // namespace

bool read_jet_aim(TableReader& in, const std::optional<Vec3>& nozzle_m, Vec3& direction,
                  Need need) {
    Vec3 toward = Vec3::Zero();
    if (!in.point("toward", toward, need)) return false;
    if (!nozzle_m) return false;
    const Vec3 way = toward - *nozzle_m;
    if (way.norm() < kTouch_m) {
        in.error("toward", fmt::format("{} is the pump's own position", in.label("toward")),
                 "give the point that the jet is aimed at");
        return false;
    }
    direction = way.normalized();
    return true;
}

void read_pumps(TableReader& top, LayoutBuilder& builder) {
    for_each_named(top, "pump", kMostPumps, [&](TableReader& item, const std::string& name) {
        read_pump(item, name, builder);
    });
    const auto* list = top.node("pump") ? top.node("pump")->as_array() : nullptr;
    if (!list || list->size() > kMostPumps) return;
    for (const auto& node : *list) {
        if (!node.is_table()) continue;
        const auto name = (*node.as_table())["name"].value_or(std::string());
        TableReader item(*node.as_table(), fmt::format("pump \"{}\"", escape_control(name)),
                         top.diagnostics());
        check_partner(item, name, builder.layout.pumps);
    }
}

}  // namespace bedshade
