#include "model/light/radiosity.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "model/base/random.h"
#include "model/light/hemisphere.h"
#include "model/reef/reflectance.h"

namespace bedshade {
namespace {

constexpr int kBedPaths = 16;   // of each cell; four cells share a set
constexpr int kTopPaths = 8;    // of each live patch; eight patches share a set
constexpr int kTopSharing = 8;  // divides a ring of sectors
constexpr int kSolidPaths = 16, kUndersidePaths = 16;
constexpr int kPointPaths = 256;

constexpr std::uint32_t kSolidKeys = 0x20000000, kPointKeys = 0x30000000;
constexpr std::uint32_t kColonyKeys = 0x40000000, kUnderKeys = 0x80000000;
constexpr std::uint32_t kKeysPerColony = 1024;

constexpr double kOffSurface_m = 3e-4;  // receptors stand this far from what they lie on
constexpr int kMinIterations = 3;  // sand, what looks down on it, and back: the bed itself may wait
constexpr int kMaxIterations = 40;
constexpr double kConverged = 1e-4;  // change of the bed's mean from sweep to sweep
constexpr double kLongest_m = 10.0, kPerMetre = 100.0;
/// Way of light under water before it has been thrown back onto a colony, in typical paths: down,
/// up and down again (assumption).
constexpr double kPathsOfBounced = 3.0;

std::uint32_t u32(std::size_t i) { return static_cast<std::uint32_t>(i); }

}  // namespace

Radiosity::Radiosity(const Layout& layout, const BedGrid& bed)
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
      baseline_(layout.colonies.size()) {
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i) bed_.receptors.push_back(bed_receptor(bed, i, j));
    bed_.paths = kBedPaths;
    bed_.sequence_parts = bed_parts();
    solids_.receptors = tracer_.solids().receptors();
    solids_.paths = kSolidPaths;
    solids_.key = kSolidKeys;
    solids_.sequence_parts = sequential_parts(solids_.receptors.size(), 1);
}

void Radiosity::place(int colony, const std::optional<ColonyInLight>& body,
                      std::vector<LightReceptor> patches) {
    const auto c = static_cast<std::size_t>(colony);
    const std::uint32_t keys = u32(c) * kKeysPerColony;
    tops_[c] = {std::move(patches), colony, kTopPaths, kColonyKeys + keys, {}, {}, {}};
    undersides_[c] = {{}, -1, kUndersidePaths, kUnderKeys + keys, {}, {}, {}};
    patch_parts_[c].clear();
    under_parts_[c].clear();
    if (!body) {
        tracer_.scene().remove(colony);
        return;
    }
    tracer_.scene().place(colony, body->mesh, body->extinction_per_m);
    tracer_.bound(colony, body->bounds);
    for (const LightReceptor& patch : tops_[c].receptors)
        patch_parts_[c].push_back(tracer_.top_part(colony, patch.position_m));
    tops_[c].sequence_parts = sequential_parts(tops_[c].receptors.size(), kTopSharing);
    if (std::isinf(body->extinction_per_m)) find_undersides(colony, body->mesh);
    undersides_[c].sequence_parts = sequential_parts(undersides_[c].receptors.size(), 1);
}

/// One receptor for every part of a colony's lower side: the middle of the triangle nearest to the
/// middle of them all.
void Radiosity::find_undersides(int colony, const TriangleMesh& mesh) {
    const auto c = static_cast<std::size_t>(colony);
    std::array<std::vector<LightReceptor>, RadiosityElements::kUnderParts> by_part;
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
    for (int part = 0; part < RadiosityElements::kUnderParts; ++part) {
        const auto& found = by_part[static_cast<std::size_t>(part)];
        if (found.empty()) continue;
        undersides_[c].receptors.push_back(central_receptor(found));
        under_parts_[c].push_back(part);
    }
}

std::vector<Radiosity::SequencePart> Radiosity::sequential_parts(std::size_t receptors,
                                                                 std::size_t sharing) {
    std::vector<SequencePart> sequence_parts(receptors);
    for (std::size_t r = 0; r < receptors; ++r)
        sequence_parts[r] = {u32(r / sharing), u32(r % sharing)};
    return sequence_parts;
}

/// Blocks of two by two cells share a set.
std::vector<Radiosity::SequencePart> Radiosity::bed_parts() const {
    std::vector<SequencePart> sequence_parts(grid_.size());
    for (int j = 0; j < grid_.ny; ++j)
        for (int i = 0; i < grid_.nx; ++i)
            sequence_parts[grid_.index(i, j)] = {u32(grid_.index(i / 2, j / 2)),
                                                 static_cast<std::uint32_t>(2 * (j % 2) + i % 2)};
    return sequence_parts;
}

std::vector<Radiosity::ReceiverBatch> Radiosity::receiver_batches() {
    constexpr std::size_t kAtOnce = 48;
    std::vector<ReceiverBatch> all;
    const auto add = [&](ReceiverGroup& group) {
        for (std::size_t r = 0; r < group.receptors.size(); r += kAtOnce)
            all.push_back({&group, r, std::min(r + kAtOnce, group.receptors.size())});
    };
    add(bed_);
    add(solids_);
    for (ReceiverGroup& group : tops_) add(group);
    for (ReceiverGroup& group : undersides_) add(group);
    return all;
}

void Radiosity::trace_links(const ReceiverBatch& batch) const {
    ReceiverGroup& group = *batch.group;
    const std::uint32_t paths = static_cast<std::uint32_t>(group.paths);
    for (std::size_t r = batch.first; r < batch.last; ++r) {
        const LightReceptor& receptor = group.receptors[r];
        const SequencePart turn = group.sequence_parts[r];
        const HemisphereSampler out(receptor.normal, group.key + turn.set);
        for (std::uint32_t w = 0; w < paths; ++w)
            group.links[r * paths + w] =
                tracer_.follow(site_of(receptor, w, out.shift()).cast<float>(),
                               out.direction(turn.part * paths + w), group.owner,
                               (group.key + u32(r)) * paths + w);
    }
}

void Radiosity::trace_links(const ParallelFor& parallel) {
    tracer_.scene().commit();
    const auto work = receiver_batches();
    for (const ReceiverBatch& batch : work) {
        batch.group->links.resize(batch.group->receptors.size() *
                                  static_cast<std::size_t>(batch.group->paths));
        batch.group->light.resize(batch.group->receptors.size() * lamps_, 0.0);
    }
    parallel(work.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) trace_links(work[i]);
    });
    open_bed_ = open_bed();
}

/// Light that has come as far as the bed has lost its weaker colours on the way; what bounces from
/// there on loses by what is left of them.
double Radiosity::typical_path_length_m() const {
    constexpr double kSlant = 1.1;  // of the depth: rays under water are steep (assumption)
    return kSlant * depth_m_;
}

/// What water leaves of bounced light by centimetre of its way.
Radiosity::TransmittanceTable Radiosity::transmittance_table(const LampsToday& today) const {
    const auto lengths = static_cast<std::size_t>(kLongest_m * kPerMetre) + 1;
    TransmittanceTable left;
    for (const LampsToday::Lamp& lamp : today.lamps) {
        const double first = lamp.water.transmittance(typical_path_length_m());
        auto& row = left.emplace_back(lengths);
        for (std::size_t i = 0; i < lengths; ++i) {
            const double way_m = (static_cast<double>(i) + 0.5) / kPerMetre;
            row[i] = static_cast<float>(lamp.water.transmittance(typical_path_length_m() + way_m) /
                                        first);
        }
    }
    return left;
}

void Radiosity::gather(const ReceiverBatch& batch, const TransmittanceTable& left) const {
    ReceiverGroup& group = *batch.group;
    const auto paths = static_cast<std::size_t>(group.paths);
    for (std::size_t r = batch.first; r < batch.last; ++r) {
        double* light = group.light.data() + r * lamps_;
        std::fill_n(light, lamps_, 0.0);
        for (std::size_t w = r * paths; w < (r + 1) * paths; ++w) {
            const TransportLink& link = group.links[w];
            if (link.element < 0) continue;
            const double* exitance =
                exitance_.data() + static_cast<std::size_t>(link.element) * lamps_;
            const auto cm = std::min(static_cast<std::size_t>(link.length_m * kPerMetre),
                                     left.front().size() - 1);
            for (std::size_t l = 0; l < lamps_; ++l)
                light[l] += static_cast<double>(link.weight * left[l][cm]) * exitance[l];
        }
        for (std::size_t l = 0; l < lamps_; ++l) light[l] /= group.paths;
    }
}

/// Share of each cell that no solid stands on.
std::vector<double> Radiosity::open_bed() const {
    std::vector<double> open(grid_.size());
    for (std::size_t cell = 0; cell < open.size(); ++cell) {
        const auto first = bed_.links.begin() + static_cast<std::ptrdiff_t>(cell * kBedPaths);
        open[cell] = static_cast<double>(std::count_if(first, first + kBedPaths,
                                                       [](const auto& l) { return !l.buried; })) /
                     kBedPaths;
    }
    return open;
}

/// Weights 1 2 1 each way take equal parts from the four kinds of cell that share a set. What is
/// smoothed is the light of the open part; a cell's own open part is then lit by it.
void Radiosity::smooth_bed() {
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
void Radiosity::smooth_rings(std::vector<double>& light) const {
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

void Radiosity::set_colony_exitance(int colony, std::span<const double> direct) {
    const auto c = static_cast<std::size_t>(colony);
    const RadiosityElements& elements = tracer_.elements();
    double* top = exitance_.data() + static_cast<std::size_t>(elements.top(colony, 0)) * lamps_;
    std::fill_n(top, RadiosityElements::kColonyParts * lamps_, 0.0);
    std::array<int, RadiosityElements::kTopParts> patches{};
    for (const int part : patch_parts_[c]) ++patches[static_cast<std::size_t>(part)];
    for (std::size_t p = 0; p < patch_parts_[c].size(); ++p) {
        const auto part = static_cast<std::size_t>(patch_parts_[c][p]);
        for (std::size_t l = 0; l < lamps_; ++l)
            top[part * lamps_ + l] += kTissueReflectance / patches[part] *
                                      (direct[p * lamps_ + l] + tops_[c].light[p * lamps_ + l]);
    }
    double* under = top + RadiosityElements::kTopParts * lamps_;
    for (std::size_t u = 0; u < under_parts_[c].size(); ++u)
        for (std::size_t l = 0; l < lamps_; ++l)
            under[static_cast<std::size_t>(under_parts_[c][u]) * lamps_ + l] =
                kTissueReflectance * undersides_[c].light[u * lamps_ + l];
}

void Radiosity::set_exitance(const DirectLight& direct) {
    for (std::size_t i = 0; i < bed_.light.size(); ++i)
        exitance_[i] = sand_reflectance_ * (direct.bed[i] + bed_.light[i]);
    double* solid = exitance_.data() + bed_.light.size();
    for (std::size_t i = 0; i < solids_.light.size(); ++i)
        solid[i] = tracer_.solids().reflectance(i / lamps_) * (direct.solids[i] + solids_.light[i]);
    for (std::size_t c = 0; c < tops_.size(); ++c)
        set_colony_exitance(static_cast<int>(c), direct.colonies[c].patch_umol_m2_s);
}

/// One more bounce for all; returns how far the bed's light moved, as a share of its mean.
double Radiosity::jacobi_iteration(const DirectLight& direct, const TransmittanceTable& left,
                                   const std::vector<ReceiverBatch>& work,
                                   const ParallelFor& parallel) {
    const std::vector<double> before = bed_.light;
    set_exitance(direct);
    parallel(work.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) gather(work[i], left);
    });
    smooth_bed();
    for (ReceiverGroup& top : tops_) smooth_rings(top.light);
    double moved = 0.0, all = 0.0;
    for (std::size_t i = 0; i < before.size(); ++i) {
        moved += std::abs(bed_.light[i] - before[i]);
        all += direct.bed[i] + bed_.light[i];
    }
    return all > 0.0 ? moved / all : 0.0;
}

void Radiosity::solve(const DirectLight& direct, const LampsToday& today,
                      const ParallelFor& parallel) {
    if (lamps_ == 0) return;
    const TransmittanceTable left = transmittance_table(today);
    const auto work = receiver_batches();
    for (int i = 1; i <= kMaxIterations; ++i)
        if (jacobi_iteration(direct, left, work, parallel) < kConverged && i >= kMinIterations)
            break;
    store_baseline(today);
}

void Radiosity::remember(const TankMemory& memory) {
    if (memory.bed_light.size() != bed_.light.size() ||
        memory.solid_light.size() != solids_.light.size())
        return;
    bed_.light = memory.bed_light;
    solids_.light = memory.solid_light;
}

void Radiosity::fill(int colony, ColonyMemory& memory) const {
    const auto c = static_cast<std::size_t>(colony);
    memory.top_light = tops_[c].light;
    memory.under_light = undersides_[c].light;
    memory.baseline = baseline_[c];
}

void Radiosity::remember(int colony, const ColonyMemory& memory) {
    const auto c = static_cast<std::size_t>(colony);
    const BaselineLight& first = memory.baseline;
    if (memory.top_light.size() != tops_[c].light.size() ||
        memory.under_light.size() != undersides_[c].light.size())
        return;
    tops_[c].light = memory.top_light;
    undersides_[c].light = memory.under_light;
    const bool seen = first.light.size() == tops_[c].light.size() && first.scale.size() == lamps_ &&
                      first.left.size() == lamps_;
    if (seen || (first.light.empty() && tops_[c].light.empty())) baseline_[c] = first;
}

void Radiosity::store_baseline(const LampsToday& today) {
    for (std::size_t c = 0; c < tops_.size(); ++c) {
        if (!baseline_[c].light.empty() || tops_[c].light.empty()) continue;
        baseline_[c].light = tops_[c].light;
        for (const auto& lamp : today.lamps) {
            baseline_[c].scale.push_back(lamp.scale);
            baseline_[c].left.push_back(
                lamp.water.transmittance(kPathsOfBounced * typical_path_length_m()));
        }
    }
}

std::vector<double> Radiosity::colony_baseline(int colony, const LampsToday& today) const {
    const BaselineLight& seen = baseline_[static_cast<std::size_t>(colony)];
    std::vector<double> light = seen.light;
    for (std::size_t i = 0; i < light.size(); ++i) {
        const std::size_t l = i % lamps_;
        const auto& lamp = today.lamps[l];
        const double then = seen.scale[l] * seen.left[l];
        const double now =
            lamp.scale * lamp.water.transmittance(kPathsOfBounced * typical_path_length_m());
        light[i] *= then > 0.0 ? now / then : 0.0;
    }
    return light;
}

std::vector<double> Radiosity::points(std::span<const LightReceptor> receptors,
                                      const LampsToday& today) const {
    ReceiverGroup out{
        {receptors.begin(), receptors.end()}, -1, kPointPaths, kPointKeys, {}, {}, {}};
    out.sequence_parts = sequential_parts(receptors.size(), 1);
    out.links.resize(receptors.size() * kPointPaths);
    out.light.resize(receptors.size() * lamps_);
    if (lamps_ == 0) return out.light;
    const ReceiverBatch all{&out, 0, receptors.size()};
    trace_links(all);
    gather(all, transmittance_table(today));
    for (std::size_t i = 0; i < out.light.size(); ++i)
        out.light[i] *=
            HemisphereSampler(receptors[i / lamps_].normal, 0).irradiance_per_exitance();
    return out.light;
}

void add_diffuse(ColonyLight& light, std::span<const double> diffuse,
                 std::span<const double> diffuse_baseline, std::span<const LightReceptor> patches,
                 const LampsToday& today) {
    const std::size_t lamps = today.lamps.size();
    double photons = 0.0;
    for (std::size_t i = 0; i < diffuse.size(); ++i) {
        light.patch_umol_m2_s[i] += diffuse[i];
        light.patch_baseline_umol_m2_s[i] += diffuse_baseline[i];
        photons += diffuse[i] * patches[i / lamps].area_m2 * today.lamps[i % lamps].plateau_hours;
    }
    const double all = light.direct_alone + photons;
    const double direct = all > 0.0 ? light.direct_alone / all : 0.0;
    for (ShadeShare& attenuation_by_colony : light.attenuation_by_colony)
        attenuation_by_colony.share *= direct;
    for (ShadeShare& attenuation_by_colony : light.attenuation_since_baseline)
        attenuation_by_colony.share *= direct;
}

}  // namespace bedshade
