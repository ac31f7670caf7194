#include "sim/run/loose_corals.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "model/base/random.h"
#include "model/flow/wake.h"
#include "model/growth/forms.h"
#include "model/growth/stability.h"
#include "model/growth/walking.h"

#include "sim/run/colony_sand.h"

namespace bedshade {
namespace {

constexpr double kOnSand_m = 0.01;

/// One loose colony through one step.
class Loose {
  public:
    Loose(const LooseStep& step, int colony, Surroundings& around, Reef& reef)
        : step_(step),
          colony_(colony),
          around_(around),
          reef_(reef),
          state_(reef.colonies[static_cast<std::size_t>(colony)]),
          set_up_(around.layout().colonies[static_cast<std::size_t>(colony)]),
          taxon_(around.layout().taxon_of(set_up_)) {}

    std::optional<Fall> walk(std::int32_t day) {
        if (taxon_.mobility_m_d <= 0.0 || state_.live_fraction <= 0.0) return {};
        const bool on_rock = around_.rock_under(set_up_, state_.position_m) >= 0;
        if (!on_rock && state_.position_m.z() > kOnSand_m) return {};  // it lies on another coral
        const Vec2& brighter = step_.brighter[static_cast<std::size_t>(colony_)];
        const Vec2 walk_m = days_walk_m(taxon_, mean_diameter_m(state_.radius_m), brighter,
                                        step_.seed, step_.member, day, colony_);
        const Vec3 to_m = walked_to_m(around_, colony_, state_, walk_m);
        if (on_rock) return shift_by(walked_over_rock(around_, colony_, state_, to_m), 0.0);
        move_to(to_m);
        return {};
    }

    std::optional<Fall> keep_footing(std::int32_t day) {
        if (around_.rock_under(set_up_, state_.position_m) < 0) return {};
        RandomStream draw(step_.seed, step_.member, Process::stability, day,
                          static_cast<std::uint32_t>(colony_));
        const Gust gust = todays_gust(draw);
        const auto displacement = displacement_in_gust(around_, colony_, state_, gust);
        if (!displacement) return {};
        return shift_by(*displacement, gust.speed_m_s);
    }

  private:
    Gust todays_gust(RandomStream& draw) const {
        const Vec3 top = top_of(state_);
        const Vec3 mean = step_.flow.velocity_m_s(top);
        const double wake = wake_factor(flow_bodies(reef_), colony_, top, mean);
        const double rms = step_.flow.speed_m_s(top);
        const double turbulent = std::sqrt(std::max(rms * rms - mean.squaredNorm(), 0.0));
        Gust gust;
        gust.speed_m_s =
            strongest_gust_m_s(wake * mean.norm(), wake * turbulent, 1.0, draw.uniform());
        const double angle = 2.0 * kPi * draw.uniform();
        const double level = mean.head<2>().norm();
        gust.heading =
            level > 1e-9 ? Vec2(mean.head<2>() / level) : Vec2(std::cos(angle), std::sin(angle));
        return gust;
    }

    /// Moves it, and returns the fall if it is one.
    std::optional<Fall> shift_by(const Displacement& displacement, double gust_m_s) {
        const Fall fall{colony_,
                        displacement.why,
                        state_.position_m,
                        displacement.to_m,
                        displacement.onto,
                        gust_m_s,
                        critical_speed_m_s(taxon_, state_)};
        move_to(displacement.to_m);
        return displacement.fell(fall.from_m) ? std::optional(fall) : std::nullopt;
    }

    void move_to(const Vec3& to_m) {
        if (to_m == state_.position_m) return;
        state_.position_m = to_m;
        around_.update_colony(colony_, state_);
    }

    const LooseStep& step_;
    int colony_;
    Surroundings& around_;
    Reef& reef_;
    ColonyState& state_;
    const Colony& set_up_;
    const Taxon& taxon_;
};

}  // namespace

std::vector<Fall> move_loose(const LooseStep& step, Surroundings& around, Reef& reef) {
    constexpr double kSliver_d = 1e-6;
    const auto first = static_cast<std::int32_t>(std::ceil(step.from_d - kSliver_d));
    const auto end = static_cast<std::int32_t>(std::ceil(step.to_d - kSliver_d));
    const Layout& layout = around.layout();
    std::vector<std::size_t> loose_ones;
    for (std::size_t i = 0; i < reef.colonies.size(); ++i)
        if (reef.colonies[i].present &&
            is_loose(layout.taxon_of(layout.colonies[i]), layout.colonies[i]))
            loose_ones.push_back(i);
    if (loose_ones.empty()) return {};
    around.set_colonies(reef);
    std::vector<Fall> falls;
    for (const std::size_t i : loose_ones) {
        Loose loose(step, static_cast<int>(i), around, reef);
        for (std::int32_t day = first; day < end; ++day) {
            for (const auto& fall : {loose.walk(day), loose.keep_footing(day)})
                if (fall) falls.push_back(*fall);
        }
    }
    return falls;
}

Vec2 brighter_side(const std::vector<double>& patch_umol_m2_s, std::size_t lamps) {
    Vec2 toward = Vec2::Zero();
    double all = 0.0;
    for (std::size_t k = 0; k < patch_umol_m2_s.size(); ++k) {
        const auto sector = static_cast<int>((k / lamps) % kSectors);
        const double angle = sector_angle_rad(sector);
        toward += patch_umol_m2_s[k] * Vec2(std::cos(angle), std::sin(angle));
        all += patch_umol_m2_s[k];
    }
    return all > 0.0 ? Vec2(2.0 / all * toward) : Vec2(Vec2::Zero());
}

}  // namespace bedshade
