#include "sim/verdict/flag_detector.h"

#include <algorithm>
#include <utility>

#include "sim/base/calendar.h"

namespace bedshade {
namespace {

/// A coral has walked out of its place once it is farther from where it was put than its own
/// diameter and than this [m]: a small one that goes a hand's breadth is still where it was set.
constexpr double kStrays_m = 0.05;

constexpr double kWindow_d = 30.0;   // of the means that light flags are judged on, and of flow
constexpr double kLeastLoss = 1e-6;  // share of surface: below this no tissue has been lost

}  // namespace

/// The three 30-day means that light flags compare.
struct FlagDetector::Means {
    double net = 0.0, baseline = 0.0, uninhibited = 0.0;
};

FlagDetector::Carbon::Carbon() : net(kWindow_d), baseline(kWindow_d), uninhibited(kWindow_d) {}

FlagDetector::FlagDetector(const Layout& layout, int member, const Checkpoint* checkpoint)
    : layout_(layout),
      member_(member),
      carbon_(layout.colonies.size()),
      too_slow_since_d_(layout.colonies.size(), -1.0),
      too_fast_since_d_(layout.colonies.size(), -1.0),
      home_m_(layout.colonies.size()),
      raised_(layout.colonies.size(), 0U) {
    for (std::size_t i = 0; checkpoint != nullptr && i < raised_.size(); ++i)
        if (checkpoint->colonies[i]) restore(i, checkpoint->day_d, *checkpoint->colonies[i]);
}

void FlagDetector::restore(std::size_t colony, double day_d, const ColonyCheckpoint& checkpoint) {
    raised_[colony] = checkpoint.raised;
    too_slow_since_d_[colony] = checkpoint.too_slow_since_d;
    too_fast_since_d_[colony] = checkpoint.too_fast_since_d;
    home_m_[colony] = checkpoint.placed_m;
    if (!checkpoint.mean_net_carbon) return;
    Carbon& carbon = carbon_[colony];
    const auto& [net, baseline, uninhibited] = *checkpoint.mean_net_carbon;
    carbon.net.restore(day_d, net);
    carbon.baseline.restore(day_d, baseline);
    carbon.uninhibited.restore(day_d, uninhibited);
    carbon.last_day_d = day_d;
    carbon.last_mean = net;
}

void FlagDetector::store(Checkpoint& checkpoint) const {
    for (std::size_t i = 0; i < raised_.size(); ++i) {
        ColonyCheckpoint& colony = *checkpoint.colonies[i];
        colony.raised = raised_[i];
        colony.too_slow_since_d = too_slow_since_d_[i];
        colony.too_fast_since_d = too_fast_since_d_[i];
        colony.placed_m = home_m_[i];
        const Carbon& carbon = carbon_[i];
        if (carbon.last_mean)
            colony.mean_net_carbon = {*carbon.last_mean, carbon.baseline.so_far().value(),
                                      carbon.uninhibited.so_far().value()};
    }
}

void FlagDetector::take(const Snapshot& snapshot) {
    note_places(snapshot);
    for (const Fall& fall : snapshot.reef.falls) judge_fall(fall, snapshot.day_d);
    for (std::size_t i = 0; i < layout_.colonies.size(); ++i) {
        const ColonyState& state = snapshot.reef.colonies[i];
        if (!state.present) continue;
        judge_losses(snapshot, i);
        if (state.stage == Stage::dead) continue;
        note_carbon(snapshot, i);
        judge_flow(snapshot, i);
        judge_size(snapshot, i);
        judge_place(snapshot, i);
    }
    std::stable_sort(flags_.begin(), flags_.end(), [](const Flag& a, const Flag& b) {
        return a.day_d != b.day_d ? a.day_d < b.day_d : a.colony < b.colony;
    });
}

void FlagDetector::note_carbon(const Snapshot& snapshot, std::size_t colony) {
    const ColonyObservation& found = snapshot.colonies[colony];
    Carbon& carbon = carbon_[colony];
    const double before_d = std::exchange(carbon.last_day_d, snapshot.day_d);
    const auto net = carbon.net.add(snapshot.day_d, found.net_carbon);
    const auto baseline = carbon.baseline.add(snapshot.day_d, found.net_others_at_baseline);
    const auto uninhibited = carbon.uninhibited.add(snapshot.day_d, found.net_uninhibited);
    if (!net) return;
    if (*net < 0.0) {
        const double last = carbon.last_mean.value_or(0.0);
        const double fell = last > 0.0 ? last / (last - *net) : 1.0;
        judge_carbon(snapshot, colony, before_d + fell * (snapshot.day_d - before_d),
                     {*net, *baseline, *uninhibited});
    }
    carbon.last_mean = *net;
}

void FlagDetector::judge_carbon(const Snapshot& snapshot, std::size_t colony, double day_d,
                                const Means& means) {
    // Diffuse light lost to growth has no single culprit: without one, the spot is
    // dim.
    const auto& grown = snapshot.colonies[colony].shade_since_baseline;
    const bool has_culprit = !grown.empty() && grown.front().share > 0.0;
    const FlagKind kind = means.uninhibited >= 0.0               ? FlagKind::too_bright
                          : means.baseline >= 0.0 && has_culprit ? FlagKind::light_short
                                                                 : FlagKind::too_dim;
    if (!lives_on_light(colony) || raised(kind, colony)) return;
    Flag& flag = raise(kind, colony, day_d);
    flag.detail.emplace_back("mean_net_carbon_30d", means.net);
    attribute_light(flag, snapshot);
}

void FlagDetector::judge_losses(const Snapshot& snapshot, std::size_t colony) {
    const ColonyState& state = snapshot.reef.colonies[colony];
    const ColonyObservation& found = snapshot.colonies[colony];
    if (state.lost.to_darkness > kLeastLoss && !raised(FlagKind::starved, colony)) {
        Flag& flag = raise(FlagKind::starved, colony, snapshot.day_d);
        if (lives_on_light(colony))
            attribute_light(flag, snapshot);
        else
            flag.culprit_kind = CulpritKind::water;  // which brings its food
    }
    if (state.lost.to_sand > kLeastLoss && !raised(FlagKind::buried, colony)) {
        Flag& flag = raise(FlagKind::buried, colony, snapshot.day_d);
        flag.detail.emplace_back("sand_mg_cm2", 100.0 * state.sand_kg_m2);
        flag.detail.emplace_back("fallout_mg_cm2_d", 100.0 * found.deposition_kg_m2_d);
        if (!found.sand_by.empty()) {
            const SandShare& most = found.sand_by.front();
            flag.culprit_kind =
                most.kind == SandShare::Kind::pump ? CulpritKind::pump : CulpritKind::inhabitant;
            flag.culprit = most.source;
            flag.share = most.share;
        }
    }
    const auto neighbour = [&](FlagKind kind, double lost, int by) {
        if (lost <= kLeastLoss || raised(kind, colony)) return false;
        Flag& flag = raise(kind, colony, snapshot.day_d);
        flag.culprit_kind = by < 0 ? CulpritKind::self : CulpritKind::colony;
        flag.culprit = by;
        flag.share = by < 0 ? 0.0 : 1.0;
        flag.detail.emplace_back("surface_lost", lost);
        return true;
    };
    if (state.lost.to_infauna > kLeastLoss && !raised(FlagKind::irritated, colony))
        attribute_to_infauna(raise(FlagKind::irritated, colony, snapshot.day_d),
                             found.irritated_by);
    if (neighbour(FlagKind::stung, state.lost.to_stings, found.stung_by) && found.by_chemistry)
        flags_.back().detail.emplace_back("by_chemistry", 1.0);
    neighbour(FlagKind::overgrown, state.lost.to_overgrowth, found.overgrown_by);
}

void FlagDetector::judge_flow(const Snapshot& snapshot, std::size_t colony) {
    const Taxon& taxon = layout_.taxon_of(layout_.colonies[colony]);
    const double speed = snapshot.colonies[colony].flow_speed_m_s;
    const auto follow = [&](bool outside, double& since_d, FlagKind kind) {
        if (!outside) {
            since_d = -1.0;
            return;
        }
        if (since_d < 0.0) since_d = snapshot.day_d;
        if (snapshot.day_d - since_d < kWindow_d || raised(kind, colony)) return;
        Flag& flag = raise(kind, colony, since_d + kWindow_d);
        flag.culprit_kind = CulpritKind::pump;
        flag.detail = {{"flow_cm_s", 100.0 * speed},
                       {"flow_low_cm_s", 100.0 * taxon.flow_low_m_s},
                       {"flow_high_cm_s", 100.0 * taxon.flow_high_m_s}};
    };
    follow(speed < taxon.flow_low_m_s, too_slow_since_d_[colony], FlagKind::flow_poor);
    follow(speed > taxon.flow_high_m_s, too_fast_since_d_[colony], FlagKind::flow_harsh);
}

void FlagDetector::judge_size(const Snapshot& snapshot, std::size_t colony) {
    const ColonyState& state = snapshot.reef.colonies[colony];
    const Touching& touching = state.touching;
    if (!(touching.glass || touching.surface || touching.size_limit)) return;
    if (raised(FlagKind::outgrown, colony)) return;
    Flag& flag = raise(FlagKind::outgrown, colony, snapshot.day_d);
    flag.detail = {{"diameter_cm", 100.0 * mean_diameter_m(state.radius_m)},
                   {"touches_glass", touching.glass ? 1.0 : 0.0},
                   {"touches_surface", touching.surface ? 1.0 : 0.0},
                   {"at_size_limit", touching.size_limit ? 1.0 : 0.0}};
}

/// Where a coral was put, by hand or by a fall; it may walk from there.
void FlagDetector::note_places(const Snapshot& snapshot) {
    for (std::size_t i = 0; i < home_m_.size(); ++i) {
        const ColonyState& state = snapshot.reef.colonies[i];
        if (!state.present)
            home_m_[i].reset();
        else if (!home_m_[i])
            home_m_[i] = state.position_m;
    }
    for (const Fall& fall : snapshot.reef.falls)
        home_m_[static_cast<std::size_t>(fall.colony)] = fall.to_m;
    // What its keeper does comes after the step in which it fell.
    for (const AppliedAction& done : snapshot.reef.applied_actions)
        if (done.kind == ActionKind::move)
            home_m_[static_cast<std::size_t>(done.colony)] = done.to_m;
}

void FlagDetector::judge_place(const Snapshot& snapshot, std::size_t colony) {
    const ColonyState& state = snapshot.reef.colonies[colony];
    const double away_m = (state.position_m - *home_m_[colony]).norm();
    const double across_m = mean_diameter_m(state.radius_m);
    if (away_m <= std::max(across_m, kStrays_m) || raised(FlagKind::strayed, colony)) return;
    Flag& flag = raise(FlagKind::strayed, colony, snapshot.day_d);
    flag.detail = {{"away_cm", 100.0 * away_m},
                   {"x_cm", 100.0 * state.position_m.x()},
                   {"y_cm", 100.0 * state.position_m.y()}};
}

/// Of a fall the water is the cause where it did it, and the coral's own place where that gave way.
void FlagDetector::judge_fall(const Fall& fall, double day_d) {
    const auto colony = static_cast<std::size_t>(fall.colony);
    if (raised(FlagKind::fallen, colony)) return;
    Flag& flag = raise(FlagKind::fallen, colony, day_d);
    flag.culprit_kind = fall.why == FallCause::flow ? CulpritKind::pump : CulpritKind::self;
    flag.share = fall.why == FallCause::flow ? 1.0 : 0.0;
    flag.detail = {{"fell_cm", 100.0 * (fall.from_m.z() - fall.to_m.z())},
                   {"x_cm", 100.0 * fall.to_m.x()},
                   {"y_cm", 100.0 * fall.to_m.y()},
                   {"gust_cm_s", 100.0 * fall.gust_m_s},
                   {"holds_up_to_cm_s", 100.0 * fall.holds_m_s},
                   {"steep", fall.why == FallCause::slope ? 1.0 : 0.0},
                   {"onto_colony", static_cast<double>(fall.onto)}};
}

Flag& FlagDetector::raise(FlagKind kind, std::size_t colony, double day_d) {
    raised_[colony] |= 1U << static_cast<unsigned>(kind);
    Flag flag;
    flag.kind = kind;
    flag.member = member_;
    flag.day_d = day_d;
    flag.month = month_of_day(day_d);
    flag.colony = static_cast<int>(colony);
    return flags_.emplace_back(std::move(flag));
}

/// A flag of the first step that it is lost in: who was there then did it.
void FlagDetector::attribute_to_infauna(Flag& flag, const Irritation& by) {
    flag.culprit_kind = CulpritKind::inhabitant;
    flag.culprit = by.inhabitant;
    flag.share = by.share;
    flag.detail.emplace_back("recession_mm_month", by.speed_mm_d * kDaysPerMonth);
}

bool FlagDetector::lives_on_light(std::size_t colony) const {
    return layout_.taxon_of(layout_.colonies[colony]).photosynthetic();
}

bool FlagDetector::raised(FlagKind kind, std::size_t colony) const {
    return (raised_[colony] & (1U << static_cast<unsigned>(kind))) != 0U;
}

/// A neighbour is the cause for what its growth took, or, where the place was too dark from the
/// start, for its shade as set if the light would do without it. Else the lamps are: too little or
/// too much.
void FlagDetector::attribute_light(Flag& flag, const Snapshot& snapshot) const {
    const ColonyObservation& found = snapshot.colonies[static_cast<std::size_t>(flag.colony)];
    flag.detail.emplace_back("dli_mol_m2_d", found.dli_mol_m2_d);
    flag.detail.emplace_back("need_dli_mol_m2_d", found.need_dli_mol_m2_d);
    flag.culprit_kind = CulpritKind::lamp;
    flag.share = 1.0;
    if (flag.kind == FlagKind::too_bright) return;
    double taken = 0.0;
    for (const ShadeShare& s : found.shade_by) taken += s.share;
    const bool would_do_alone = found.dli_mol_m2_d >= (1.0 - taken) * found.need_dli_mol_m2_d;
    const auto& suspects =
        flag.kind == FlagKind::light_short ||
                raised(FlagKind::light_short, static_cast<std::size_t>(flag.colony))
            ? found.shade_since_baseline
            : found.shade_by;
    if (suspects.empty() || suspects.front().share <= 0.0) return;
    if (flag.kind != FlagKind::light_short && !would_do_alone) return;
    flag.culprit_kind = CulpritKind::colony;
    flag.culprit = suspects.front().colony;
    for (const ShadeShare& s : found.shade_by)
        if (s.colony == flag.culprit) flag.share = s.share;
    flag.detail.emplace_back("shade_since_set", suspects.front().share);
    flag.detail.emplace_back("shade_by_all", taken);
}

bool plate_starves_bed(const Flag& flag, const Layout& layout) {
    if (flag.kind != FlagKind::light_short && flag.kind != FlagKind::starved) return false;
    if (flag.culprit_kind != CulpritKind::colony) return false;
    if (!layout.colonies[static_cast<std::size_t>(flag.colony)].on_bed()) return false;
    const Colony& plate = layout.colonies[static_cast<std::size_t>(flag.culprit)];
    const Form form = layout.taxon_of(plate).form;
    return form == Form::laminar || form == Form::tabular;
}

}  // namespace bedshade
