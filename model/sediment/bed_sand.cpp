#include "model/sediment/bed_sand.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "model/base/days.h"
#include "model/sediment/grains.h"
#include "model/sediment/open_sand.h"

namespace bedshade {
namespace {

/// Suspended sediment settles like fine grains of the bed's mineral: an upper bound, because much
/// of a tank's turbidity is lighter.
double suspended_deposition_kg_m2_d(const Water& water, const Substrate& substrate,
                                    const Seawater& sea) {
    const Grain suspended{water.turbidity_grain_m, substrate.density_kg_m3};
    return kSecondsPerDay * settling_flux_kg_m2_s(water.turbidity_kg_m3,
                                                  settling_ferguson_church_m_s(suspended, sea));
}

double sum_of(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0);
}

}  // namespace

double SteadySand::deposition_kg_m2_d() const {
    return sum_of(by_pump_kg_m2_d) + suspended_kg_m2_d;
}

double SandSources::total_kg_m2() const {
    return sum_of(by_pump_kg_m2) + sum_of(by_inhabitant_kg_m2) + suspended_kg_m2;
}

BedSand::BedSand(const Tank& tank, const Substrate& substrate, std::vector<Rock> rocks,
                 const std::vector<Inhabitant>& inhabitants, const Water& water,
                 std::shared_ptr<const FlowField> flow, const BedGrid& grid,
                 const std::vector<FlowBody>& corals)
    : tank_(tank),
      substrate_(substrate),
      rocks_(std::move(rocks)),
      flow_(std::move(flow)),
      grid_(grid),
      sea_(seawater(water)),
      suspended_kg_m2_d_(suspended_deposition_kg_m2_d(water, substrate, sea_)),
      pumps_(flow_->settings().front().running.size()) {
    for (std::size_t k = 0; k < inhabitants.size(); ++k) {
        territories_.push_back(territory_of(inhabitants[k], static_cast<int>(k), scene()));
        const auto events = mean_bioturbation(territories_.back(), scene());
        mean_bioturbation_.insert(mean_bioturbation_.end(), events.begin(), events.end());
    }
    update_wakes(corals);
}

void BedSand::update_wakes(const std::vector<FlowBody>& corals) {
    std::vector<std::vector<CellSaltation>> motion;
    for (std::size_t s = 0; s < flow_->settings().size(); ++s)
        motion.push_back(saltation_on(grid_, tank_, substrate_, rocks_, *flow_, corals, sea_, s));
    resuspended_ = resuspended_sand(grid_, tank_, substrate_, *flow_, motion);
    stress_Pa_.assign(grid_.size(), 0.0);
    for (const auto& cells : motion)
        for (std::size_t c = 0; c < cells.size(); ++c)
            stress_Pa_[c] = std::max(stress_Pa_[c], cells[c].stress_Pa);
    compute_deposition();
    compute_net_change();
}

void BedSand::compute_deposition() {
    deposition_kg_m2_d_.clear();
    // The cell as a disc of equal variance: side^2/12 = R^2/4.
    const double radius_m = std::sqrt(grid_.cell_area_m2() / 3.0);
    for (int j = 0; j < grid_.ny; ++j)
        for (int i = 0; i < grid_.nx; ++i) {
            const SandReceptor cell{Vec3(grid_.x_m(i), grid_.y_m(j), 0.0), radius_m};
            double sum = 0.0;
            for (const auto& sand : resuspended_)
                sum += bedshade::deposition_kg_m2_d(sand, cell, tank_);
            for (const auto& event : mean_bioturbation_) sum += deposit_kg_m2(event, cell, tank_);
            deposition_kg_m2_d_.push_back(sum);
        }
}

void BedSand::compute_net_change() {
    net_change_kg_m2_d_ = deposition_kg_m2_d_;
    const double area_m2 = grid_.cell_area_m2();
    for (const auto& sand : resuspended_)
        net_change_kg_m2_d_[sand.cell] -= sand.rate_kg_d / area_m2;
    for (const auto& event : mean_bioturbation_)
        net_change_kg_m2_d_[grid_.index(grid_.column_at(event.spot_m.x()),
                                        grid_.row_at(event.spot_m.y()))] -= event.mass_kg / area_m2;
    for (int j = 0; j < grid_.ny; ++j)
        for (int i = 0; i < grid_.nx; ++i)
            if (!open_sand({grid_.x_m(i), grid_.y_m(j)}, tank_, rocks_))
                net_change_kg_m2_d_[grid_.index(i, j)] = 0.0;
}

double BedSand::bioturbation_kg_d() const {
    double sum = 0.0;
    for (const auto& event : mean_bioturbation_) sum += event.mass_kg;
    return sum;
}

SteadySand BedSand::steady(const SandReceptor& receptor) const {
    SteadySand out;
    out.by_pump_kg_m2_d.assign(pumps_, 0.0);
    for (const auto& sand : resuspended_) {
        const double deposition = bedshade::deposition_kg_m2_d(sand, receptor, tank_);
        if (deposition <= 0.0) continue;
        for (std::size_t p = 0; p < pumps_; ++p)
            out.by_pump_kg_m2_d[p] += deposition * sand.pump_shares[p];
    }
    out.suspended_kg_m2_d = suspended_kg_m2_d_;
    out.flow_speed_m_s = flow_->speed_m_s(receptor.at_m);
    return out;
}

std::vector<double> BedSand::mean_by_inhabitant_kg_m2_d(const SandReceptor& receptor) const {
    std::vector<double> sums(territories_.size(), 0.0);
    for (const auto& event : mean_bioturbation_)
        sums[static_cast<std::size_t>(event.inhabitant)] += deposit_kg_m2(event, receptor, tank_);
    return sums;
}

std::vector<BioturbationEvent> BedSand::events(std::uint64_t seed, std::uint32_t member,
                                               double from_d, double to_d) const {
    std::vector<BioturbationEvent> found;
    const auto first = static_cast<std::int32_t>(std::floor(from_d));
    for (std::int32_t day = first; day < to_d; ++day)
        for (const auto& territory : territories_)
            for (const auto& event :
                 bioturbation_events_of_day(territory, seed, member, day, scene()))
                if (event.time_d >= from_d && event.time_d < to_d) found.push_back(event);
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.time_d < b.time_d; });
    return found;
}

std::vector<Deposit> BedSand::deposits(const SandReceptor& receptor,
                                       const std::vector<BioturbationEvent>& events) const {
    std::vector<Deposit> landed;
    for (const auto& event : events) {
        const double mass = deposit_kg_m2(event, receptor, tank_);
        if (mass > 0.0) landed.push_back({event.time_d, mass, event.inhabitant});
    }
    return landed;
}

SandSources BedSand::sources(const SteadySand& steady, const std::vector<Deposit>& deposits,
                             double days) const {
    SandSources out;
    for (const double rate : steady.by_pump_kg_m2_d) out.by_pump_kg_m2.push_back(rate * days);
    out.by_inhabitant_kg_m2.assign(territories_.size(), 0.0);
    for (const auto& deposit : deposits)
        out.by_inhabitant_kg_m2[static_cast<std::size_t>(deposit.inhabitant)] += deposit.mass_kg_m2;
    out.suspended_kg_m2 = steady.suspended_kg_m2_d * days;
    return out;
}

}  // namespace bedshade
