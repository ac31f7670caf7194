#include "sim/arrange/site_surrogate.h"

#include <algorithm>
#include <cmath>

#include "model/contact/clearance.h"
#include "model/contact/reach.h"
#include "model/growth/compensation_light.h"

#include "sim/advice/site.h"
#include "sim/run/reef_light.h"
#include "sim/verdict/margins.h"

namespace bedshade {
namespace {

constexpr double kLightHeight = 0.6;  // of its own height: where a coral's light is guessed

Layout without(Layout layout, int colony) {
    const auto gone = layout.colonies.begin() + colony;
    const std::string name = gone->name;
    layout.colonies.erase(gone);
    std::erase_if(layout.actions, [&](const Action& action) { return action.colony == name; });
    return layout;
}

/// Scores every site on the last day.
class LastSnapshot final : public SnapshotSink {
  public:
    LastSnapshot(const Layout& layout, const Colony& coral, const Taxon& taxon,
                 double end_diameter_m, const std::vector<StandingSite>& sites,
                 const Forecast& forecast)
        : layout_(layout),
          coral_(coral),
          taxon_(taxon),
          radius_m_(0.5 * end_diameter_m),
          sites_(sites),
          forecast_(forecast),
          hours_(light_day_of(layout)),
          margins_(sites.size(), -kMostReported) {}

    void take(const Snapshot& snapshot) override {
        if (snapshot.step_d > 0.0) return;
        std::vector<LightReceptor> receptors;
        for (const StandingSite& site : sites_)
            receptors.push_back({site.at_m + kLightHeight * coral_.height_m * Vec3::UnitZ()});
        const std::vector<double> light = forecast_.light_at(forecast_.light(), receptors);
        const std::size_t lamps = layout_.lamps.size();
        for (std::size_t s = 0; s < sites_.size(); ++s)
            margins_[s] =
                std::min({of_light(std::span(light).subspan(s * lamps, lamps)),
                          of_flow(sites_[s].at_m), of_room(snapshot.reef, sites_[s].at_m)});
    }
    const std::vector<double>& margins() const { return margins_; }

  private:
    double of_light(std::span<const double> lit) const {
        if (!taxon_.photosynthetic()) return kNoLimit;
        const double saturation =
            equilibrium_saturation_umol_m2_s(taxon_, peak_umol_m2_s(hours_, lit));
        const double whole = 1.0;
        const double scale =
            need_scale(tissue_of(taxon_, saturation), hours_, {lit, std::span(&whole, 1)}, 1.0);
        return scale > 0.0 ? std::max(-std::log(scale), -kMostReported) : kNoLimit;
    }

    double of_flow(const Vec3& at_m) const {
        const double speed = forecast_.flow().speed_m_s(at_m + coral_.height_m * Vec3::UnitZ());
        return std::min(log_ratio(speed, taxon_.flow_low_m_s),
                        log_ratio(taxon_.flow_high_m_s, speed));
    }

    double of_room(const Reef& reef, const Vec3& at_m) const {
        double room_m = kNoLimit;
        for (std::size_t i = 0; i < reef.colonies.size(); ++i) {
            const ColonyState& state = reef.colonies[i];
            const Taxon& other = layout_.taxon_of(layout_.colonies[i]);
            if (!has_tissue(state) || other.id == taxon_.id) continue;
            SiteNeighbour::Then drum;
            drum.away_m =
                (at_m - state.position_m).head<2>().norm() - 0.5 * mean_diameter_m(state.radius_m);
            drum.low_m = state.position_m.z();
            drum.high_m = drum.low_m + state.height_m;
            const double reach_m =
                std::max(reach_of(taxon_, other).most_m(), reach_of(other, taxon_).most_m());
            room_m = std::min(
                room_m, gap_m(drum, radius_m_, at_m.z(), at_m.z() + coral_.height_m) - reach_m);
        }
        return room_m > kClearanceSearch_m ? kNoLimit : room_m / kRoomOfOne_m;
    }

    const Layout& layout_;
    const Colony& coral_;
    const Taxon& taxon_;
    double radius_m_;
    const std::vector<StandingSite>& sites_;
    const Forecast& forecast_;
    LightDay hours_;
    std::vector<double> margins_;
};

}  // namespace

std::vector<double> estimate_margins(const Layout& layout, int colony,
                                     const std::vector<StandingSite>& sites, double end_diameter_m,
                                     const RunOptions& options, const ParallelFor& parallel,
                                     const GoOn& go_on) {
    const Layout others = without(layout, colony);
    const Colony& coral = layout.colonies[static_cast<std::size_t>(colony)];
    Forecast forecast(others, options, parallel);
    LastSnapshot observe(others, coral, layout.taxon_of(coral), end_diameter_m, sites, forecast);
    forecast.run({&observe}, go_on);
    return observe.margins();
}

}  // namespace bedshade
