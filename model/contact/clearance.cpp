#include "model/contact/clearance.h"

#include <algorithm>
#include <array>
#include <optional>

#include "model/contact/reach.h"
#include "model/contact/separation.h"

namespace bedshade {
namespace {

/// The living colonies with their rims.
class LivingColonies {
  public:
    LivingColonies(const Surroundings& around, const Reef& reef) : around_(around) {
        rim_.resize(reef.colonies.size());
        for (std::size_t c = 0; c < rim_.size(); ++c)
            if (has_tissue(reef.colonies[c])) rim_[c] = rim_of(*around.body(static_cast<int>(c)));
    }

    bool lives(int c) const { return rim_[static_cast<std::size_t>(c)].has_value(); }
    const Taxon& taxon(int c) const {
        const Layout& layout = around_.layout();
        return layout.taxon_of(layout.colonies[static_cast<std::size_t>(c)]);
    }
    double gap_m(int a, int b, double limit_m) const {
        return std::min(one_sided_m(a, b, limit_m), one_sided_m(b, a, limit_m));
    }

  private:
    double one_sided_m(int a, int b, double limit_m) const {
        const auto distance_m = distances_m(*rim_[static_cast<std::size_t>(a)], *around_.body(b),
                                            *rim_[static_cast<std::size_t>(b)], limit_m);
        return *std::min_element(distance_m.begin(), distance_m.end());
    }

    const Surroundings& around_;
    std::vector<std::optional<Rim>> rim_;  // none for colonies without tissue
};

double farthest_reach_m(const Layout& layout) {
    double farthest_m = 0.0;
    for (const Taxon& a : layout.taxa)
        for (const Taxon& b : layout.taxa)
            farthest_m = std::max(farthest_m, reach_of(a, b).most_m());
    return farthest_m;
}

void note(Clearance& clearance, double room_m, int neighbour) {
    if (room_m < clearance.room_m) clearance = {room_m, neighbour};
}

}  // namespace

std::vector<Clearance> clearances(const Surroundings& around, const Reef& reef) {
    const LivingColonies living(around, reef);
    const double search_m = farthest_reach_m(around.layout()) + kClearanceSearch_m;
    std::vector<Clearance> found(reef.colonies.size());
    for (int a = 0; a < around.colony_count(); ++a) {
        if (!living.lives(a)) continue;
        for (const int b : around.colonies_near(grown(around.body(a)->bounds(), search_m))) {
            if (b <= a || !living.lives(b) || living.taxon(a).id == living.taxon(b).id) continue;
            const double reach_m = std::max(reach_of(living.taxon(a), living.taxon(b)).most_m(),
                                            reach_of(living.taxon(b), living.taxon(a)).most_m());
            const double room_m = living.gap_m(a, b, reach_m + kClearanceSearch_m) - reach_m;
            if (room_m > kClearanceSearch_m) continue;
            note(found[static_cast<std::size_t>(a)], room_m, b);
            note(found[static_cast<std::size_t>(b)], room_m, a);
        }
    }
    return found;
}

}  // namespace bedshade
