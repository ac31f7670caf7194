#include "sim/export/export_csv.h"

#include <cmath>
#include <fmt/format.h>

#include "sim/base/calendar.h"
#include "sim/base/plain_text.h"
#include "sim/trajectory/run_layout.h"

namespace bedshade {
namespace {

/// A number as short as reads back to the same single precision; empty where there is none.
std::string number(double value) {
    return std::isfinite(value) ? fmt::format("{:.9g}", value) : std::string();
}

/// member, day, date: how every row begins.
std::string when(const Trajectory& run, int member, double day_d) {
    return fmt::format("{},{},{}", member, number(day_d), date_at(run.start(), day_d));
}

double day_of(const Trajectory& run, int snapshot) {
    return run.days_d()[static_cast<std::size_t>(snapshot)];
}

std::string name_of(const Trajectory& run, int colony) {
    return colony < 0 ? std::string("\"\"")
                      : csv_quoted(run.colonies().at(static_cast<std::size_t>(colony)).name);
}

/// A value's heading: its dataset and its units in letters, as in `sand_load_kg_m-2`.
std::string heading(const ColonyQuantity& quantity) {
    std::string text = quantity.dataset;
    if (std::string(quantity.units) == "1") return text;
    text += '_';
    for (const char* c = quantity.units; *c != '\0'; ++c) text += *c == ' ' ? '_' : *c;
    return text;
}

/// Calls `act` with every snapshot of every member.
template <class Act>
void each_snapshot(const Trajectory& run, const Act& act) {
    for (int member = 0; member < run.members(); ++member)
        for (int snapshot = 0; snapshot < run.snapshots(member); ++snapshot)
            act(member, day_of(run, snapshot), run.colonies_at(member, snapshot));
}

std::string colonies_csv(const Trajectory& run) {
    std::string text = "member,day,date,colony,taxon,stage,x_m,y_m,z_m";
    for (const auto& quantity : kColonyQuantities) text += fmt::format(",{}", heading(quantity));
    text += '\n';
    each_snapshot(run, [&](int member, double day_d, const std::vector<ColonyRecord>& records) {
        for (std::size_t i = 0; i < records.size(); ++i) {
            const ColonyRecord& record = records[i];
            if (!record.present) continue;
            text += fmt::format("{},{},{},{}", when(run, member, day_d),
                                csv_quoted(run.colonies()[i].name),
                                csv_quoted(run.colonies()[i].taxon), to_string(record.stage));
            for (int axis = 0; axis < 3; ++axis)
                text += fmt::format(",{}", number(record.position_m[axis]));
            for (const auto& quantity : kColonyQuantities)
                text += fmt::format(",{}", number(record.*quantity.value));
            text += '\n';
        }
    });
    return text;
}

std::string shade_csv(const Trajectory& run) {
    const int colonies = static_cast<int>(run.colonies().size());
    std::string text = "member,day,date,colony,shaded_by,share\n";
    each_snapshot(run, [&](int member, double day_d, const std::vector<ColonyRecord>& records) {
        for (int i = 0; i < colonies; ++i)
            for (const ShadeShare& shade : records[static_cast<std::size_t>(i)].shade_by)
                if (shade.colony < colonies)
                    text += fmt::format("{},{},{},{}\n", when(run, member, day_d), name_of(run, i),
                                        name_of(run, shade.colony), number(shade.share));
    });
    return text;
}

void add_bed(const Trajectory& run, int month, std::string& text) {
    const int snapshot = snapshot_at_month(run, month);
    const BedObservation bed = run.bed_at(0, snapshot);
    const BedGrid& grid = run.bed_grid();
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t cell = grid.index(i, j);
            text += fmt::format("{},{},{:.9g},{:.9g},{},{},{}\n", month,
                                number(day_of(run, snapshot)), grid.x_m(i), grid.y_m(j),
                                number(bed.ppfd_umol_m2_s[cell]), number(bed.shear_stress_Pa[cell]),
                                number(bed.deposition_kg_m2_d[cell]));
        }
}

std::string bed_csv(const Trajectory& run) {
    std::string text = "month,day,x_m,y_m,ppfd_umol_m-2_s-1,shear_stress_Pa,fallout_kg_m-2_d-1\n";
    for (const int month : months_of(run)) add_bed(run, month, text);
    return text;
}

std::string flags_csv(const Trajectory& run) {
    std::string text = "member,day,date,month,flag,colony,culprit_kind,culprit,share\n";
    for (const Flag& flag : run.flags()) {
        const bool by_colony = flag.culprit_kind == CulpritKind::colony;
        text += fmt::format("{},{},{},{},{},{},{}\n", when(run, flag.member, flag.day_d),
                            flag.month, to_string(flag.kind), name_of(run, flag.colony),
                            to_string(flag.culprit_kind),
                            by_colony           ? name_of(run, flag.culprit)
                            : flag.culprit >= 0 ? std::to_string(flag.culprit + 1)
                                                : std::string(),
                            number(flag.share));
    }
    return text;
}

std::string events_csv(const Trajectory& run) {
    std::string text = "member,day,date,kind,colony,text\n";
    for (const EventRecord& event : run.events())
        text +=
            fmt::format("{},{},{},{}\n", when(run, event.member, event.day_d),
                        csv_quoted(event.kind), name_of(run, event.colony), csv_quoted(event.text));
    return text;
}

}  // namespace

void export_csv(const Trajectory& run, const ExportSink& sink) {
    sink("colonies.csv", colonies_csv(run));
    sink("shade.csv", shade_csv(run));
    sink("bed.csv", bed_csv(run));
    sink("flags.csv", flags_csv(run));
    sink("events.csv", events_csv(run));
}

}  // namespace bedshade
