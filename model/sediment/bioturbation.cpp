#include "model/sediment/bioturbation.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "model/base/random.h"
#include "model/sediment/grains.h"
#include "model/sediment/open_sand.h"

namespace bedshade {
namespace {

/// Spread of the sand plume in still water, and growth of the spread per distance: guesses.
constexpr double kPlumeSpread_m = 0.025;
constexpr double kSpreadPerDistance = 0.3;

constexpr int kMaxAttempts = 64;

Vec2 inside_glass(const Vec2& spot_m, const Tank& tank) {
    return {std::clamp(spot_m.x(), 0.0, tank.length_m), std::clamp(spot_m.y(), 0.0, tank.width_m)};
}

/// Number of events of a day (Poisson). The mean is split into parts within the range of the
/// generator.
int sample_count(RandomStream& stream, double mean) {
    constexpr double kPart = 250.0;
    const double rest = std::fmod(mean, kPart);
    const auto parts = std::lround((mean - rest) / kPart);
    int count = 0;
    for (long part = 0; part < parts; ++part) count += stream.poisson(kPart);
    return rest > 0.0 ? count + stream.poisson(rest) : count;
}

double sample_hour(RandomStream& stream, const Inhabitant& who) {
    const double hour = who.from_h + active_h(who) * stream.uniform();
    return hour >= 24.0 ? hour - 24.0 : hour;
}

std::size_t cell_of(const Vec2& spot_m, const BedGrid& grid) {
    return grid.index(grid.column_at(spot_m.x()), grid.row_at(spot_m.y()));
}

/// A random point of open sand in the territory, or none after kMaxAttempts.
std::optional<Vec2> sample_position(RandomStream& stream, const Territory& territory,
                                    const BioturbationScene& scene) {
    const Inhabitant& who = territory.inhabitant;
    const Box floor{Vec3::Zero(), Vec3(scene.tank.length_m, scene.tank.width_m, 0.0)};
    for (int attempt = 0; attempt < kMaxAttempts; ++attempt) {
        const double r = who.radius_m * std::sqrt(stream.uniform());
        const double a = 2.0 * kPi * stream.uniform();
        const Vec2 spot = who.around_m + r * Vec2(std::cos(a), std::sin(a));
        if (!floor.contains(Vec3(spot.x(), spot.y(), 0.0))) continue;
        // Rock is tested only in cells that have some.
        if (territory.all_sand[cell_of(spot, scene.grid)] ||
            open_sand(spot, scene.tank, scene.rocks))
            return spot;
    }
    return std::nullopt;
}

BioturbationEvent event_at(const Territory& territory, const Vec2& spot_m, double time_d,
                           double mass_kg, const BedGrid& grid) {
    const SettlingDrift& drift = territory.drift[cell_of(spot_m, grid)];
    return {time_d, spot_m, mass_kg, territory.inhabitant.lift_m, territory.index, drift};
}

/// Area fractions of a cell, from evenly spaced sample points.
struct CellSample {
    double in_territory = 0.0;  ///< open sand within the territory
    double open = 0.0;          ///< open sand
};

CellSample sample_cell(int i, int j, const Inhabitant& who, const BioturbationScene& scene) {
    constexpr int kPerSide = 4;
    CellSample sample;
    for (int k = 0; k < kPerSide * kPerSide; ++k) {
        const int column = k % kPerSide, row = k / kPerSide;
        const double u = (column + 0.5) / kPerSide, v = (row + 0.5) / kPerSide;
        const Vec2 spot((i + u) * scene.grid.cell_x_m, (j + v) * scene.grid.cell_y_m);
        if (!open_sand(spot, scene.tank, scene.rocks)) continue;
        sample.open += 1.0 / (kPerSide * kPerSide);
        if ((spot - who.around_m).norm() <= who.radius_m)
            sample.in_territory += 1.0 / (kPerSide * kPerSide);
    }
    return sample;
}

}  // namespace

double lifted_kg_d(const Inhabitant& who) {
    return who.does == Habit::stir ? who.count * who.events_per_day * who.mass_kg : 0.0;
}

SettlingDrift settling_drift_at(const Vec2& spot_m, double lift_m, const BioturbationScene& scene) {
    const Grain grain{scene.substrate.grain_at_m(spot_m), scene.substrate.density_kg_m3};
    const double settling_m_s = settling_soulsby_m_s(grain, scene.sea);
    const Vec3 half_way(spot_m.x(), spot_m.y(), 0.5 * lift_m);
    return {scene.flow.velocity_m_s(half_way).head<2>() / settling_m_s,
            kSpreadPerDistance * scene.flow.speed_m_s(half_way) / settling_m_s};
}

Territory territory_of(const Inhabitant& who, int index, const BioturbationScene& scene) {
    Territory territory{who, index, {}, {}, {}};
    if (who.does != Habit::stir) return territory;
    const BedGrid& grid = scene.grid;
    territory.drift.resize(grid.size());
    territory.share.resize(grid.size());
    territory.all_sand.resize(grid.size());
    const double reach = who.radius_m + std::hypot(grid.cell_x_m, grid.cell_y_m);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const Vec2 spot(grid.x_m(i), grid.y_m(j));
            if ((spot - who.around_m).norm() > reach) continue;
            const CellSample sample = sample_cell(i, j, who, scene);
            territory.drift[grid.index(i, j)] = settling_drift_at(spot, who.lift_m, scene);
            territory.share[grid.index(i, j)] = sample.in_territory;
            territory.all_sand[grid.index(i, j)] = sample.open == 1.0;
        }
    return territory;
}

std::vector<BioturbationEvent> bioturbation_events_of_day(const Territory& territory,
                                                          std::uint64_t seed, std::uint32_t member,
                                                          std::int32_t day,
                                                          const BioturbationScene& scene) {
    const Inhabitant& who = territory.inhabitant;
    std::vector<BioturbationEvent> events;
    if (who.does != Habit::stir) return events;
    RandomStream stream(seed, member, Process::bioturbation, day,
                        static_cast<std::uint32_t>(territory.index));
    const int count = sample_count(stream, who.count * who.events_per_day);
    const int bouts = std::min(count, kMaxBoutsPerDay);
    for (int b = 0; b < bouts; ++b) {
        const int lifts = count / bouts + (b < count % bouts ? 1 : 0);
        const double time_d = day + sample_hour(stream, who) / 24.0;
        const auto spot = sample_position(stream, territory, scene);
        if (spot)
            events.push_back(event_at(territory, *spot, time_d, lifts * who.mass_kg, scene.grid));
    }
    std::stable_sort(events.begin(), events.end(),
                     [](const auto& a, const auto& b) { return a.time_d < b.time_d; });
    return events;
}

std::vector<BioturbationEvent> mean_bioturbation(const Territory& territory,
                                                 const BioturbationScene& scene) {
    const Inhabitant& who = territory.inhabitant;
    std::vector<BioturbationEvent> events;
    if (!(lifted_kg_d(who) > 0.0)) return events;
    const double cells = std::accumulate(territory.share.begin(), territory.share.end(), 0.0);
    // A territory between the sample points is represented by its centre.
    if (cells == 0.0 && open_sand(who.around_m, scene.tank, scene.rocks))
        events.push_back(event_at(territory, who.around_m, 0.0, lifted_kg_d(who), scene.grid));
    for (int j = 0; j < scene.grid.ny; ++j)
        for (int i = 0; i < scene.grid.nx; ++i) {
            const double share = territory.share[scene.grid.index(i, j)];
            if (share > 0.0)
                events.push_back(event_at(territory, {scene.grid.x_m(i), scene.grid.y_m(j)}, 0.0,
                                          lifted_kg_d(who) * share / cells, scene.grid));
        }
    return events;
}

double deposit_kg_m2(const BioturbationEvent& event, const SandReceptor& receptor,
                     const Tank& tank) {
    const double fall_m = event.lift_m - std::max(receptor.at_m.z(), 0.0);
    if (fall_m <= 0.0) return 0.0;
    const double spread_m = event.drift.spread * fall_m;
    const Footprint footprint{inside_glass(event.spot_m + event.drift.distance * fall_m, tank),
                              std::sqrt(kPlumeSpread_m * kPlumeSpread_m + spread_m * spread_m)};
    return event.mass_kg *
           footprint.density_per_m2(receptor.at_m.head<2>(), receptor.radius_m, tank);
}

}  // namespace bedshade
