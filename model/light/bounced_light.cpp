#include "model/light/bounced_light.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "model/base/random.h"
#include "model/light/half_space.h"
#include "model/reef/reflectance.h"

namespace bedshade {
namespace {

constexpr int kBedWays = 16;    // of each cell; four cells share a set
constexpr int kTopWays = 8;     // of each live patch; eight patches share a set
constexpr int kTopSharing = 8;  // divides a ring of sectors
constexpr int kSolidWays = 16, kUnderWays = 16;
constexpr int kPointWays = 256;

constexpr std::uint32_t kSolidKeys = 0x20000000, kPointKeys = 0x30000000;
constexpr std::uint32_t kColonyKeys = 0x40000000, kUnderKeys = 0x80000000;
constexpr std::uint32_t kKeysPerColony = 1024;

constexpr double kOffSurface_m = 3e-4;  // receptors stand this far from what they lie on
constexpr int kFewestSweeps = 3;  // sand, what looks down on it, and back: the bed itself may wait
constexpr int kMostSweeps = 40;
constexpr double kSettled = 1e-4;  // change of the bed's mean from sweep to sweep
constexpr double kLongest_m = 10.0, kPerMetre = 100.0;
/// Way of light under water before it has been thrown back onto a colony, in typical paths: down,
/// up and down again (assumption).
constexpr double kPathsOfBounced = 3.0;

std::uint32_t u32(std::size_t i) { return static_cast<std::uint32_t>(i); }

}  // namespace

BouncedLight::BouncedLight(const Layout& layout, const BedGrid& bed)
    : lamps_(layout.lamps.size()),
      grid_(bed),
      depth_m_(layout.tank.water_depth_m),
      sand_reflectance_(layout.substrate.reflectance),
      tracer_(layout, bed),
      tops_(layout.colonies.size()),
      undersides_(layout.colonies.size()),
      patch_parts_(layout.colonies.size()),
      under_parts_(layout.colonies.size()),
      exitance_(tracer_.elements().count() * layout.lamps.size(), 0.0),
      first_seen_(layout.colonies.size()) {
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i) bed_.receptors.push_back(bed_receptor(bed, i, j));
    bed_.ways = kBedWays;
    bed_.turns = turns_on_bed();
    solids_.receptors = tracer_.solids().receptors();
    solids_.ways = kSolidWays;
    solids_.key = kSolidKeys;
    solids_.turns = turns_in_line(solids_.receptors.size(), 1);
}

void BouncedLight::place(int colony, const std::optional<ColonyInLight>& body,
                         std::vector<LightReceptor> patches) {
    const auto c = static_cast<std::size_t>(colony);
    const std::uint32_t keys = u32(c) * kKeysPerColony;
    tops_[c] = {std::move(patches), colony, kTopWays, kColonyKeys + keys, {}, {}, {}};
    undersides_[c] = {{}, -1, kUnderWays, kUnderKeys + keys, {}, {}, {}};
    patch_parts_[c].clear();
    under_parts_[c].clear();
    if (!body) {
        tracer_.canopy().take_away(colony);
        return;
    }
    tracer_.canopy().place(colony, body->mesh, body->extinction_per_m);
    tracer_.bound(colony, body->bounds);
    for (const LightReceptor& patch : tops_[c].receptors)
        patch_parts_[c].push_back(tracer_.top_part(colony, patch.position_m));
    tops_[c].turns = turns_in_line(tops_[c].receptors.size(), kTopSharing);
    if (std::isinf(body->extinction_per_m)) find_undersides(colony, body->mesh);
    undersides_[c].turns = turns_in_line(undersides_[c].receptors.size(), 1);
}

/// One receptor for every part of a colony's lower side: the middle of the triangle nearest to the
/// middle of them all.
void BouncedLight::find_undersides(int colony, const TriangleMesh& mesh) {
    const auto c = static_cast<std::size_t>(colony);
    std::array<std::vector<LightReceptor>, BounceElements::kUnderParts> by_part;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto [p, q, r] = corners_m(mesh, t);
        const Vec3 across = (q - p).cross(r - p);
        if (!(across.z() < -0.3 * across.norm())) continue;
        const Vec3 normal = across.normalized();
        const Vec3 at = (p + q + r) / 3.0 + kOffSurface_m * normal;
        if (at.z() > 0.0 && at.z() < depth_m_)
            by_part[static_cast<std::size_t>(tracer_.under_part(colony, at))].push_back(
                {at, normal});
    }
    for (int part = 0; part < BounceElements::kUnderParts; ++part) {
        const auto& found = by_part[static_cast<std::size_t>(part)];
        if (found.empty()) continue;
        undersides_[c].receptors.push_back(middle_of(found));
        under_parts_[c].push_back(part);
    }
}

std::vector<BouncedLight::Turn> BouncedLight::turns_in_line(std::size_t receptors,
                                                            std::size_t sharing) {
    std::vector<Turn> turns(receptors);
    for (std::size_t r = 0; r < receptors; ++r) turns[r] = {u32(r / sharing), u32(r % sharing)};
    return turns;
}

/// Blocks of two by two cells share a set.
std::vector<BouncedLight::Turn> BouncedLight::turns_on_bed() const {
    std::vector<Turn> turns(grid_.size());
    for (int j = 0; j < grid_.ny; ++j)
        for (int i = 0; i < grid_.nx; ++i)
            turns[grid_.index(i, j)] = {u32(grid_.index(i / 2, j / 2)),
                                        static_cast<std::uint32_t>(2 * (j % 2) + i % 2)};
    return turns;
}

std::vector<BouncedLight::Watch> BouncedLight::watches() {
    constexpr std::size_t kAtOnce = 48;
    std::vector<Watch> all;
    const auto add = [&](Lookout& lookout) {
        for (std::size_t r = 0; r < lookout.receptors.size(); r += kAtOnce)
            all.push_back({&lookout, r, std::min(r + kAtOnce, lookout.receptors.size())});
    };
    add(bed_);
    add(solids_);
    for (Lookout& lookout : tops_) add(lookout);
    for (Lookout& lookout : undersides_) add(lookout);
    return all;
}

void BouncedLight::look_out(const Watch& watch) const {
    Lookout& lookout = *watch.lookout;
    const std::uint32_t ways = static_cast<std::uint32_t>(lookout.ways);
    for (std::size_t r = watch.first; r < watch.last; ++r) {
        const LightReceptor& receptor = lookout.receptors[r];
        const Turn turn = lookout.turns[r];
        const HalfSpace out(receptor.normal, lookout.key + turn.set);
        for (std::uint32_t w = 0; w < ways; ++w)
            lookout.links[r * ways + w] =
                tracer_.follow(spot_of(receptor, w, out.shift()).cast<float>(),
                               out.direction(turn.part * ways + w), lookout.owner,
                               (lookout.key + u32(r)) * ways + w);
    }
}

void BouncedLight::look_out(const ParallelFor& parallel) {
    tracer_.canopy().commit();
    const auto work = watches();
    for (const Watch& watch : work) {
        watch.lookout->links.resize(watch.lookout->receptors.size() *
                                    static_cast<std::size_t>(watch.lookout->ways));
        watch.lookout->light.resize(watch.lookout->receptors.size() * lamps_, 0.0);
    }
    parallel(work.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) look_out(work[i]);
    });
    open_bed_ = open_bed();
}

/// Light that has come as far as the bed has lost its weaker colours on the way; what bounces from
/// there on loses by what is left of them.
double BouncedLight::typical_path_m() const {
    constexpr double kSlant = 1.1;  // of the depth: rays under water are steep (assumption)
    return kSlant * depth_m_;
}

/// What water leaves of bounced light by centimetre of its way.
BouncedLight::LeftByLength BouncedLight::left_by_length(const LampsToday& today) const {
    const auto lengths = static_cast<std::size_t>(kLongest_m * kPerMetre) + 1;
    LeftByLength left;
    for (const LampsToday::Lamp& lamp : today.lamps) {
        const double first = lamp.water.transmittance(typical_path_m());
        auto& row = left.emplace_back(lengths);
        for (std::size_t i = 0; i < lengths; ++i) {
            const double way_m = (static_cast<double>(i) + 0.5) / kPerMetre;
            row[i] = static_cast<float>(lamp.water.transmittance(typical_path_m() + way_m) / first);
        }
    }
    return left;
}

void BouncedLight::gather(const Watch& watch, const LeftByLength& left) const {
    Lookout& lookout = *watch.lookout;
    const auto ways = static_cast<std::size_t>(lookout.ways);
    for (std::size_t r = watch.first; r < watch.last; ++r) {
        double* light = lookout.light.data() + r * lamps_;
        std::fill_n(light, lamps_, 0.0);
        for (std::size_t w = r * ways; w < (r + 1) * ways; ++w) {
            const BounceLink& link = lookout.links[w];
            if (link.element < 0) continue;
            const double* exitance =
                exitance_.data() + static_cast<std::size_t>(link.element) * lamps_;
            const auto cm = std::min(static_cast<std::size_t>(link.length_m * kPerMetre),
                                     left.front().size() - 1);
            for (std::size_t l = 0; l < lamps_; ++l)
                light[l] += static_cast<double>(link.weight * left[l][cm]) * exitance[l];
        }
        for (std::size_t l = 0; l < lamps_; ++l) light[l] /= lookout.ways;
    }
}

/// Share of each cell that no solid stands on.
std::vector<double> BouncedLight::open_bed() const {
    std::vector<double> open(grid_.size());
    for (std::size_t cell = 0; cell < open.size(); ++cell) {
        const auto first = bed_.links.begin() + static_cast<std::ptrdiff_t>(cell * kBedWays);
        open[cell] = static_cast<double>(std::count_if(first, first + kBedWays,
                                                       [](const auto& l) { return !l.buried; })) /
                     kBedWays;
    }
    return open;
}

/// Weights 1 2 1 each way take equal parts from the four kinds of cell that share a set. What is
/// smoothed is the light of the open part; a cell's own open part is then lit by it.
void BouncedLight::smooth_bed() {
    // Beyond the bed's edge lies its mirror image about the outermost row.
    const auto folded = [](int i, int n) {
        return n == 1 ? 0 : i < 0 ? -i : i >= n ? 2 * n - 2 - i : i;
    };
    const std::vector<double> rough = bed_.light;
    std::vector<double> sum(lamps_);
    for (int j = 0; j < grid_.ny; ++j)
        for (int i = 0; i < grid_.nx; ++i) {
            const std::size_t here = grid_.index(i, j);
            std::fill(sum.begin(), sum.end(), 0.0);
            double weights = 0.0;
            for (int dj = -1; dj <= 1; ++dj)
                for (int di = -1; di <= 1; ++di) {
                    const std::size_t cell =
                        grid_.index(folded(i + di, grid_.nx), folded(j + dj, grid_.ny));
                    const double weight = (2 - std::abs(di)) * (2 - std::abs(dj));
                    weights += weight * open_bed_[cell];
                    for (std::size_t l = 0; l < lamps_; ++l)
                        sum[l] += weight * rough[cell * lamps_ + l];
                }
            for (std::size_t l = 0; l < lamps_; ++l)
                bed_.light[here * lamps_ + l] =
                    weights > 0.0 ? open_bed_[here] * sum[l] / weights : 0.0;
        }
}

/// Means along a ring of patches over as many neighbours as share a set.
void BouncedLight::smooth_rings(std::vector<double>& light) const {
    const std::size_t patches = light.size() / std::max<std::size_t>(1, lamps_);
    if (patches % kSectors != 0) return;
    const std::vector<double> rough = light;
    for (std::size_t ring = 0; ring < patches; ring += kSectors)
        for (std::size_t s = 0; s < kSectors; ++s)
            for (std::size_t l = 0; l < lamps_; ++l) {
                double sum = 0.0;
                for (int d = -kTopSharing / 2; d <= kTopSharing / 2; ++d) {
                    const std::size_t other =
                        (s + static_cast<std::size_t>(kSectors + d)) % kSectors;
                    const double weight = std::abs(d) == kTopSharing / 2 ? 0.5 : 1.0;
                    sum += weight * rough[(ring + other) * lamps_ + l];
                }
                light[(ring + s) * lamps_ + l] = sum / kTopSharing;
            }
}

void BouncedLight::set_colony_exitance(int colony, std::span<const double> direct) {
    const auto c = static_cast<std::size_t>(colony);
    const BounceElements& elements = tracer_.elements();
    double* top = exitance_.data() + static_cast<std::size_t>(elements.top(colony, 0)) * lamps_;
    std::fill_n(top, BounceElements::kColonyParts * lamps_, 0.0);
    std::array<int, BounceElements::kTopParts> patches{};
    for (const int part : patch_parts_[c]) ++patches[static_cast<std::size_t>(part)];
    for (std::size_t p = 0; p < patch_parts_[c].size(); ++p) {
        const auto part = static_cast<std::size_t>(patch_parts_[c][p]);
        for (std::size_t l = 0; l < lamps_; ++l)
            top[part * lamps_ + l] += kTissueReflectance / patches[part] *
                                      (direct[p * lamps_ + l] + tops_[c].light[p * lamps_ + l]);
    }
    double* under = top + BounceElements::kTopParts * lamps_;
    for (std::size_t u = 0; u < under_parts_[c].size(); ++u)
        for (std::size_t l = 0; l < lamps_; ++l)
            under[static_cast<std::size_t>(under_parts_[c][u]) * lamps_ + l] =
                kTissueReflectance * undersides_[c].light[u * lamps_ + l];
}

void BouncedLight::set_exitance(const DirectLight& direct) {
    for (std::size_t i = 0; i < bed_.light.size(); ++i)
        exitance_[i] = sand_reflectance_ * (direct.bed[i] + bed_.light[i]);
    double* solid = exitance_.data() + bed_.light.size();
    for (std::size_t i = 0; i < solids_.light.size(); ++i)
        solid[i] = tracer_.solids().reflectance(i / lamps_) * (direct.solids[i] + solids_.light[i]);
    for (std::size_t c = 0; c < tops_.size(); ++c)
        set_colony_exitance(static_cast<int>(c), direct.colonies[c].patch_umol_m2_s);
}

/// One more bounce for all; returns how far the bed's light moved, as a share of its mean.
double BouncedLight::sweep(const DirectLight& direct, const LeftByLength& left,
                           const std::vector<Watch>& work, const ParallelFor& parallel) {
    const std::vector<double> before = bed_.light;
    set_exitance(direct);
    parallel(work.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) gather(work[i], left);
    });
    smooth_bed();
    for (Lookout& top : tops_) smooth_rings(top.light);
    double moved = 0.0, all = 0.0;
    for (std::size_t i = 0; i < before.size(); ++i) {
        moved += std::abs(bed_.light[i] - before[i]);
        all += direct.bed[i] + bed_.light[i];
    }
    return all > 0.0 ? moved / all : 0.0;
}

void BouncedLight::shine(const DirectLight& direct, const LampsToday& today,
                         const ParallelFor& parallel) {
    if (lamps_ == 0) return;
    const LeftByLength left = left_by_length(today);
    const auto work = watches();
    for (int i = 1; i <= kMostSweeps; ++i)
        if (sweep(direct, left, work, parallel) < kSettled && i >= kFewestSweeps) break;
    remember_first_seen(today);
}

void BouncedLight::remember(const TankMemory& memory) {
    if (memory.bed_light.size() != bed_.light.size() ||
        memory.solid_light.size() != solids_.light.size())
        return;
    bed_.light = memory.bed_light;
    solids_.light = memory.solid_light;
}

void BouncedLight::fill(int colony, ColonyMemory& memory) const {
    const auto c = static_cast<std::size_t>(colony);
    memory.top_light = tops_[c].light;
    memory.under_light = undersides_[c].light;
    memory.first_seen = first_seen_[c];
}

void BouncedLight::remember(int colony, const ColonyMemory& memory) {
    const auto c = static_cast<std::size_t>(colony);
    const FirstSeenLight& first = memory.first_seen;
    if (memory.top_light.size() != tops_[c].light.size() ||
        memory.under_light.size() != undersides_[c].light.size())
        return;
    tops_[c].light = memory.top_light;
    undersides_[c].light = memory.under_light;
    const bool seen = first.light.size() == tops_[c].light.size() && first.scale.size() == lamps_ &&
                      first.left.size() == lamps_;
    if (seen || (first.light.empty() && tops_[c].light.empty())) first_seen_[c] = first;
}

void BouncedLight::remember_first_seen(const LampsToday& today) {
    for (std::size_t c = 0; c < tops_.size(); ++c) {
        if (!first_seen_[c].light.empty() || tops_[c].light.empty()) continue;
        first_seen_[c].light = tops_[c].light;
        for (const auto& lamp : today.lamps) {
            first_seen_[c].scale.push_back(lamp.scale);
            first_seen_[c].left.push_back(
                lamp.water.transmittance(kPathsOfBounced * typical_path_m()));
        }
    }
}

std::vector<double> BouncedLight::colony_as_set(int colony, const LampsToday& today) const {
    const FirstSeenLight& seen = first_seen_[static_cast<std::size_t>(colony)];
    std::vector<double> light = seen.light;
    for (std::size_t i = 0; i < light.size(); ++i) {
        const std::size_t l = i % lamps_;
        const auto& lamp = today.lamps[l];
        const double then = seen.scale[l] * seen.left[l];
        const double now =
            lamp.scale * lamp.water.transmittance(kPathsOfBounced * typical_path_m());
        light[i] *= then > 0.0 ? now / then : 0.0;
    }
    return light;
}

std::vector<double> BouncedLight::points(std::span<const LightReceptor> receptors,
                                         const LampsToday& today) const {
    Lookout out{{receptors.begin(), receptors.end()}, -1, kPointWays, kPointKeys, {}, {}, {}};
    out.turns = turns_in_line(receptors.size(), 1);
    out.links.resize(receptors.size() * kPointWays);
    out.light.resize(receptors.size() * lamps_);
    if (lamps_ == 0) return out.light;
    const Watch all{&out, 0, receptors.size()};
    look_out(all);
    gather(all, left_by_length(today));
    for (std::size_t i = 0; i < out.light.size(); ++i)
        out.light[i] *= HalfSpace(receptors[i / lamps_].normal, 0).irradiance_per_exitance();
    return out.light;
}

void add_bounced(ColonyLight& light, std::span<const double> bounced,
                 std::span<const double> bounced_as_set, std::span<const LightReceptor> patches,
                 const LampsToday& today) {
    const std::size_t lamps = today.lamps.size();
    double photons = 0.0;
    for (std::size_t i = 0; i < bounced.size(); ++i) {
        light.patch_umol_m2_s[i] += bounced[i];
        light.patch_as_set_umol_m2_s[i] += bounced_as_set[i];
        photons += bounced[i] * patches[i / lamps].area_m2 * today.lamps[i % lamps].plateau_hours;
    }
    const double all = light.direct_alone + photons;
    const double direct = all > 0.0 ? light.direct_alone / all : 0.0;
    for (ShadeShare& taken : light.taken) taken.share *= direct;
    for (ShadeShare& taken : light.taken_since_set) taken.share *= direct;
}

}  // namespace bedshade
