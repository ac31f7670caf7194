#include "sim/advice/standing_sites.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/growth/rock_probe.h"
#include "model/growth/stability.h"

#include "sim/advice/ground.h"

namespace bedshade {
namespace {

constexpr double kGrid_cm = 2.5;
constexpr double kGlassRoom_m = 0.01, kSurfaceRoom_m = 0.02, kNeighbourRoom_m = 0.01;
constexpr int kAround = 8;

/// The centre and eight sites on a circle about it.
std::array<Vec2, kAround + 1> disc_about(const Vec2& centre_m, double radius_m) {
    std::array<Vec2, kAround + 1> sites;
    sites[kAround] = centre_m;
    for (std::size_t k = 0; k < kAround; ++k) {
        const double turn = 2.0 * kPi / kAround * static_cast<double>(k);
        sites[k] = centre_m + radius_m * Vec2(std::cos(turn), std::sin(turn));
    }
    return sites;
}

class SiteFinder {
  public:
    SiteFinder(const Layout& layout, const Colony& colony)
        : layout_(layout), colony_(colony), taxon_(layout.taxon_of(colony)) {
        for (const Rock& rock : layout.rocks) rocks_.emplace_back(rock);
    }

    void add_sites_at(const Vec2& site_m, std::vector<StandingSite>& found) const {
        if (!inside_glass(site_m)) return;
        if (may_stand_on_sand(site_m)) add({Vec3(site_m.x(), site_m.y(), 0.0), "sand"}, found);
        if (taxon_.spreads_on == SpreadsOn::sand || is_loose(taxon_, colony_)) return;
        for (std::size_t r = 0; r < rocks_.size(); ++r)
            if (const auto top_m = level_top(rocks_[r], site_m))
                add({Vec3(site_m.x(), site_m.y(), *top_m), layout_.rocks[r].name}, found);
    }

  private:
    double radius_m() const { return 0.5 * colony_.diameter_m; }

    bool inside_glass(const Vec2& site_m) const {
        const double room_m = radius_m() + kGlassRoom_m;
        return site_m.x() >= room_m && site_m.y() >= room_m &&
               site_m.x() <= layout_.tank.length_m - room_m &&
               site_m.y() <= layout_.tank.width_m - room_m;
    }

    bool may_stand_on_sand(const Vec2& site_m) const {
        return is_loose(taxon_, colony_) ||
               holds_here(taxon_, layout_.substrate.grain_at_m(site_m));
    }

    /// The rock's top there, where it carries the middle half of the coral about level.
    std::optional<double> level_top(const RockProbe& rock, const Vec2& site_m) const {
        const auto top_m = rock.top_at(site_m.x(), site_m.y());
        if (!top_m) return std::nullopt;
        for (const Vec2& p : disc_about(site_m, 0.5 * radius_m())) {
            const auto there_m = rock.top_at(p.x(), p.y());
            if (!there_m || std::abs(*there_m - *top_m) > 0.5 * radius_m()) return std::nullopt;
        }
        return top_m;
    }

    /// Adds a site whose water, over the coral's width and height, is free of rock.
    void add(const StandingSite& site, std::vector<StandingSite>& found) const {
        const double top_m = site.at_m.z() + colony_.height_m;
        if (top_m + kSurfaceRoom_m > layout_.tank.water_depth_m) return;
        const bool on_rock = site.on != "sand";
        for (const Vec2& p : disc_about(site.at_m.head<2>(), on_rock ? 0.0 : radius_m()))
            for (const double share : {0.2, 0.6, 1.0}) {
                const Vec3 body_m(p.x(), p.y(), site.at_m.z() + share * colony_.height_m);
                for (const RockProbe& rock : rocks_)
                    if (rock.inside(body_m)) return;
            }
        found.push_back(site);
    }

    const Layout& layout_;
    const Colony& colony_;
    const Taxon& taxon_;
    std::vector<RockProbe> rocks_;
};

bool overlap_in_height(double low_m, double height_m, const Colony& other) {
    return low_m <= other.position_m.z() + other.height_m + kNeighbourRoom_m &&
           other.position_m.z() <= low_m + height_m + kNeighbourRoom_m;
}

}  // namespace

StandingSite baseline_site(const Colony& colony) { return {colony.position_m, colony.on}; }

std::vector<StandingSite> standing_sites(const Layout& layout, int colony) {
    const Colony& moved = layout.colonies[static_cast<std::size_t>(colony)];
    const SiteFinder finder(layout, moved);
    std::vector<StandingSite> found = {baseline_site(moved)};
    const int across = static_cast<int>(100.0 * layout.tank.length_m / kGrid_cm);
    const int deep = static_cast<int>(100.0 * layout.tank.width_m / kGrid_cm);
    for (int j = 1; j <= deep; ++j)
        for (int i = 1; i <= across; ++i) finder.add_sites_at(0.01 * kGrid_cm * Vec2(i, j), found);
    return found;
}

bool is_free_of_neighbours(const Layout& layout, int colony, const StandingSite& site) {
    const Colony& moved = layout.colonies[static_cast<std::size_t>(colony)];
    for (std::size_t i = 0; i < layout.colonies.size(); ++i) {
        const Colony& other = layout.colonies[i];
        if (static_cast<int>(i) == colony) continue;
        const double away_m = (other.position_m - site.at_m).head<2>().norm();
        if (away_m < 0.5 * (moved.diameter_m + other.diameter_m) + kNeighbourRoom_m &&
            overlap_in_height(site.at_m.z(), moved.height_m, other))
            return false;
    }
    return true;
}

void set_down(Colony& colony, const StandingSite& site) {
    colony.position_m = site.at_m;
    colony.on = site.on;
}

}  // namespace bedshade
