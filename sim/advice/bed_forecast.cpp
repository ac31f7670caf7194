#include "sim/advice/bed_forecast.h"

#include <algorithm>
#include <limits>

#include "model/contact/reach.h"
#include "model/contact/separation.h"
#include "model/growth/rock_probe.h"

#include "sim/run/colony_sand.h"
#include "sim/run/conditions.h"
#include "sim/run/flow_cache.h"
#include "sim/run/reef_light.h"

namespace bedshade {
namespace {

constexpr double kNone_m = std::numeric_limits<double>::infinity();

NeighbourThen neighbour_then(const Layout& layout, std::size_t colony, const Snapshot& snapshot) {
    const Colony& set_up = layout.colonies[colony];
    const ColonyState& state = snapshot.reef.colonies[colony];
    const ColonyObservation& found = snapshot.colonies[colony];
    NeighbourThen then{ColonyBody(shape_of(layout.taxon_of(set_up), set_up, state))};
    const Rim rim = rim_of(then.body);
    const double z_m = then.body.base_m().z() + then.body.profile().rim_z_m;
    then.low_m = z_m - rim.below_m;
    then.high_m = z_m + rim.above_m;
    then.radius_m = 0.5 * mean_diameter_m(state.radius_m);
    then.light_of_need = found.need_dli_mol_m2_d > 0.0
                             ? found.dli_mol_m2_d / found.need_dli_mol_m2_d
                             : std::numeric_limits<double>::infinity();
    return then;
}

}  // namespace

/// Keeps a day in every month of the run, and its last day.
class BedForecast::Keeper final : public SnapshotSink {
  public:
    Keeper(BedForecast& bed, const Forecast& forecast, const ParallelFor& parallel)
        : bed_(bed), forecast_(forecast), parallel_(parallel) {
        for (std::size_t cell = 0; cell < bed.grid_.size(); ++cell)
            if (bed.is_open_sand(cell)) open_.push_back(cell);
        for (const double z_m : kLightHeights_m)
            for (const std::size_t cell : open_) receptors_.push_back(receptor_over(cell, z_m));
    }

    void take(const Snapshot& snapshot) override {
        add_dli(snapshot);
        const bool last = snapshot.step_d <= 0.0;
        if (snapshot.day_d < next_d_ - 1e-6 && !last) return;
        next_d_ = snapshot.day_d + kDaysPerMonth;
        BedDay day;
        day.day_d = snapshot.day_d;
        day.food = food_over(bed_.layout_, {}, day.day_d, day.day_d + kDaysPerMonth);
        day.temperature_C = temperature_on_C(bed_.layout_, day.day_d);
        day.dli_mol_m2_d = mean_dli(snapshot);
        for (std::size_t c = 0; c < snapshot.colonies.size(); ++c) {
            auto& then = day.colonies.emplace_back();
            if (has_tissue(snapshot.reef.colonies[c]))
                then.emplace(neighbour_then(bed_.layout_, c, snapshot));
        }
        day.in_the_flow = flow_bodies(snapshot.reef);
        if (bed_.days_.size() % kMonthsApart == 0 || last) keep_heights(snapshot);
        bed_.days_.push_back(std::move(day));
    }

  private:
    static constexpr std::size_t kMonthsApart = 3;  ///< of looks at the light by height

    LightReceptor receptor_over(std::size_t cell, double z_m) const {
        const Vec2 site = bed_.site_m(cell);
        LightReceptor receptor{Vec3(site.x(), site.y(), z_m)};
        receptor.half_width_m = 0.5 * Vec2(bed_.grid_.cell_x_m, bed_.grid_.cell_y_m);
        return receptor;
    }

    /// Adds the bed's daily light from the last snapshot to this one, as if it changed evenly.
    void add_dli(const Snapshot& snapshot) {
        sum_.resize(snapshot.bed.dli_mol_m2_d.size(), 0.0);
        const double days = last_dli_.empty() ? 0.0 : snapshot.day_d - last_d_;
        for (std::size_t cell = 0; cell < sum_.size() && days > 0.0; ++cell)
            sum_[cell] += 0.5 * days * (last_dli_[cell] + snapshot.bed.dli_mol_m2_d[cell]);
        days_summed_ += days;
        last_d_ = snapshot.day_d;
        last_dli_ = snapshot.bed.dli_mol_m2_d;
    }

    std::vector<float> mean_dli(const Snapshot& snapshot) {
        std::vector<float> mean(sum_.size());
        for (std::size_t cell = 0; cell < sum_.size(); ++cell)
            mean[cell] = static_cast<float>(days_summed_ > 0.0 ? sum_[cell] / days_summed_
                                                               : snapshot.bed.dli_mol_m2_d[cell]);
        sum_.assign(sum_.size(), 0.0);
        days_summed_ = 0.0;
        return mean;
    }

    /// In pieces of one size, so that the light does not depend on the number of threads.
    void keep_heights(const Snapshot& snapshot) const {
        constexpr std::size_t kPiece = 64;
        const ReefLightObservation observed = forecast_.light();
        HeightLight light;
        light.day_d = snapshot.day_d;
        light.per_dli.assign(kLightHeights_m.size() * bed_.grid_.size() * bed_.layout_.lamps.size(),
                             0.0F);
        parallel_((receptors_.size() + kPiece - 1) / kPiece,
                  [&](std::size_t begin, std::size_t end) {
                      for (std::size_t piece = begin; piece < end; ++piece)
                          keep_piece(snapshot, observed, piece * kPiece,
                                     std::min((piece + 1) * kPiece, receptors_.size()), light);
                  });
        bed_.heights_.push_back(std::move(light));
    }

    void keep_piece(const Snapshot& snapshot, const ReefLightObservation& observed,
                    std::size_t begin, std::size_t end, HeightLight& light) const {
        const std::size_t lamps = bed_.layout_.lamps.size();
        const auto seen =
            forecast_.light_at(observed, std::span(receptors_).subspan(begin, end - begin));
        for (std::size_t r = begin; r < end; ++r) {
            const std::size_t cell = open_[r % open_.size()];
            const std::size_t height = r / open_.size();
            const double dli = snapshot.bed.dli_mol_m2_d[cell];
            for (std::size_t l = 0; l < lamps && dli > 0.0; ++l)
                light.per_dli[(height * bed_.grid_.size() + cell) * lamps + l] =
                    static_cast<float>(seen[(r - begin) * lamps + l] / dli);
        }
    }

    BedForecast& bed_;
    const Forecast& forecast_;
    const ParallelFor& parallel_;
    std::vector<std::size_t> open_;         // cells of bare sand
    std::vector<LightReceptor> receptors_;  // [height][open cell]
    std::vector<double> sum_, last_dli_;    // by cell
    double days_summed_ = 0.0, last_d_ = 0.0, next_d_ = 0.0;
};

BedForecast::BedForecast(const Layout& layout, const RunOptions& options,
                         const ParallelFor& parallel, const GoOn& go_on)
    : layout_(layout),
      grid_(bed_grid_of(layout.tank)),
      light_day_(light_day_of(layout)),
      flow_(process_flow_cache().flow_of(layout, parallel)),
      sand_(std::make_unique<BedSand>(layout.tank, layout.substrate, layout.rocks,
                                      layout.inhabitants, layout.water, flow_, grid_)),
      stirring_(sand_->events(options.seed, static_cast<std::uint32_t>(options.member), 0.0,
                              kSandDays_d)) {
    find_rock_over();
    Forecast forecast(layout, options, parallel);
    Keeper keeper(*this, forecast, parallel);
    finished_ = forecast.run({&keeper}, go_on);
    sand_->update_wakes(days_.front().in_the_flow);
}

Vec2 BedForecast::site_m(std::size_t cell) const {
    const auto columns = static_cast<std::size_t>(grid_.nx);
    return {grid_.x_m(static_cast<int>(cell % columns)),
            grid_.y_m(static_cast<int>(cell / columns))};
}

void BedForecast::find_rock_over() {
    const auto look_m = [](int observe) { return 0.001 + 0.005 * observe; };
    std::vector<RockProbe> rocks;
    for (const Rock& rock : layout_.rocks) rocks.emplace_back(rock);
    rock_over_m_.assign(grid_.size(), kNone_m);
    for (std::size_t cell = 0; cell < grid_.size(); ++cell) {
        const Vec2 site = site_m(cell);
        for (const RockProbe& rock : rocks) {
            const Box& box = rock.bounds();
            if (site.x() < box.min.x() || site.x() > box.max.x() || site.y() < box.min.y() ||
                site.y() > box.max.y())
                continue;
            for (int observe = 0; look_m(observe) < std::min(rock_over_m_[cell], box.max.z());
                 ++observe)
                if (rock.inside(Vec3(site.x(), site.y(), look_m(observe))))
                    rock_over_m_[cell] = observe == 0 ? 0.0 : look_m(observe);
        }
    }
}

std::size_t BedForecast::open_cells() const {
    return static_cast<std::size_t>(std::count_if(rock_over_m_.begin(), rock_over_m_.end(),
                                                  [](double over_m) { return over_m > 0.0; }));
}

double BedForecast::part_at(const HeightLight& light, std::size_t cell, double height_m,
                            std::size_t lamp) const {
    const auto& heights = kLightHeights_m;
    const std::size_t lamps = layout_.lamps.size();
    const double z_m = std::clamp(height_m, heights.front(), heights.back());
    const auto above = std::upper_bound(heights.begin() + 1, heights.end() - 1, z_m);
    const auto upper = static_cast<std::size_t>(above - heights.begin());
    const double part = (z_m - heights[upper - 1]) / (heights[upper] - heights[upper - 1]);
    const auto at = [&](std::size_t height) {
        return static_cast<double>(light.per_dli[(height * grid_.size() + cell) * lamps + lamp]);
    };
    return (1.0 - part) * at(upper - 1) + part * at(upper);
}

void BedForecast::light_at(std::size_t day, std::size_t cell, double height_m,
                           double* by_lamp) const {
    const double day_d = days_[day].day_d;
    std::size_t before = 0;
    while (before + 2 < heights_.size() && heights_[before + 1].day_d <= day_d) ++before;
    const std::size_t after = std::min(before + 1, heights_.size() - 1);
    const HeightLight &a = heights_[before], &b = heights_[after];
    const double part = b.day_d > a.day_d ? (day_d - a.day_d) / (b.day_d - a.day_d) : 0.0;
    const auto dli = static_cast<double>(days_[day].dli_mol_m2_d[cell]);
    for (std::size_t l = 0; l < layout_.lamps.size(); ++l)
        by_lamp[l] = dli * ((1.0 - part) * part_at(a, cell, height_m, l) +
                            part * part_at(b, cell, height_m, l));
}

double BedForecast::speed_m_s(const BedDay& day, const Vec3& at_m) const {
    return flow_->speed_m_s(at_m) *
           wake_factor(day.in_the_flow, -1, at_m, flow_->velocity_m_s(at_m));
}

}  // namespace bedshade
