#include "model/light/radiosity.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "model/light/diffuse_smoothing.h"
#include "model/light/hemisphere.h"
#include "model/reef/reflectance.h"

namespace bedshade {
namespace {

// Random sequences of the kinds of receivers lie apart.
constexpr std::uint32_t kSolidKeys = 0x20000000, kPointKeys = 0x30000000;
constexpr std::uint32_t kColonyKeys = 0x40000000, kUnderKeys = 0x80000000;
constexpr std::uint32_t kKeysPerColony = 1024;

constexpr double kOffSurface_m = 3e-4;  // receptors stand this far from what they lie on
constexpr int kMinIterations = 3;  // sand, what looks down on it, and back: the bed itself may wait
constexpr int kMaxIterations = 40;
constexpr double kConverged = 1e-4;  // change of the bed's mean from pass to pass
/// Path of light under water before it is reflected onto a colony, in typical paths: down, up and
/// down again (assumption).
constexpr double kPathsOfDiffuse = 3.0;

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
      under_parts_(layout.colonies.size()) {
    for (int j = 0; j < bed.ny; ++j)
        for (int i = 0; i < bed.nx; ++i) bed_.receptors.push_back(bed_receptor(bed, i, j));
    bed_.paths = kBedPaths;
    bed_.parts = bed_parts(bed);
    solids_.receptors = tracer_.solids().receptors();
    solids_.paths = kSolidPaths;
    solids_.key = kSolidKeys;
    solids_.parts = sequential_parts(solids_.receptors.size(), 1);
}

void Radiosity::place(int colony, const std::optional<ColonyInLight>& body,
                      std::vector<LightReceptor> patches) {
    const auto c = static_cast<std::size_t>(colony);
    const std::uint32_t keys = static_cast<std::uint32_t>(c) * kKeysPerColony;
    tops_[c] = {std::move(patches), colony, kTopPaths, kColonyKeys + keys, {}, {}};
    undersides_[c] = {{}, -1, kUndersidePaths, kUnderKeys + keys, {}, {}};
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
    tops_[c].parts = sequential_parts(tops_[c].receptors.size(), kTopSharing);
    if (std::isinf(body->extinction_per_m)) find_undersides(colony, body->mesh);
    undersides_[c].parts = sequential_parts(undersides_[c].receptors.size(), 1);
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

std::vector<ReceiverGroup*> Radiosity::groups() {
    std::vector<ReceiverGroup*> all{&bed_, &solids_};
    for (ReceiverGroup& top : tops_) all.push_back(&top);
    for (ReceiverGroup& underside : undersides_) all.push_back(&underside);
    return all;
}

/// Pieces of every group's work. Light is made to fit its group, dark where it is new.
std::vector<Radiosity::ReceiverBatch> Radiosity::batches(LightState& light) const {
    constexpr std::size_t kBatch = 48;
    std::vector<ReceiverBatch> all;
    const auto add = [&](const ReceiverGroup& group, std::vector<double>& of_group) {
        of_group.resize(group.receptors.size() * lamps_, 0.0);
        for (std::size_t r = 0; r < group.receptors.size(); r += kBatch)
            all.push_back({&group, &of_group, r, std::min(r + kBatch, group.receptors.size())});
    };
    light.colonies.resize(tops_.size());
    add(bed_, light.bed_light);
    add(solids_, light.solid_light);
    for (std::size_t c = 0; c < tops_.size(); ++c) add(tops_[c], light.colonies[c].top_light);
    for (std::size_t c = 0; c < tops_.size(); ++c)
        add(undersides_[c], light.colonies[c].underside_light);
    return all;
}

void Radiosity::trace(const ParallelFor& parallel) {
    constexpr std::size_t kBatch = 48;
    struct Piece {
        ReceiverGroup* group;
        std::size_t first;
    };
    tracer_.scene().commit();
    std::vector<Piece> work;
    for (ReceiverGroup* group : groups()) {
        group->links.resize(group->receptors.size() * static_cast<std::size_t>(group->paths));
        for (std::size_t r = 0; r < group->receptors.size(); r += kBatch)
            work.push_back({group, r});
    }
    parallel(work.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i)
            trace_links(tracer_, *work[i].group, work[i].first,
                        std::min(work[i].first + kBatch, work[i].group->receptors.size()));
    });
    open_bed_ = open_bed();
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

/// Rays under water are steep (assumption).
double Radiosity::typical_path_length_m() const {
    constexpr double kSlant = 1.1;  // of the depth
    return kSlant * depth_m_;
}

void Radiosity::set_colony_exitance(int colony, std::span<const double> direct,
                                    const ColonyLightState& light, Exitance& exitance) const {
    const auto c = static_cast<std::size_t>(colony);
    const RadiosityElements& elements = tracer_.elements();
    double* top = exitance.data() + static_cast<std::size_t>(elements.top(colony, 0)) * lamps_;
    std::fill_n(top, RadiosityElements::kColonyParts * lamps_, 0.0);
    std::array<int, RadiosityElements::kTopParts> patches{};
    for (const int part : patch_parts_[c]) ++patches[static_cast<std::size_t>(part)];
    for (std::size_t p = 0; p < patch_parts_[c].size(); ++p) {
        const auto part = static_cast<std::size_t>(patch_parts_[c][p]);
        for (std::size_t l = 0; l < lamps_; ++l)
            top[part * lamps_ + l] += kTissueReflectance / patches[part] *
                                      (direct[p * lamps_ + l] + light.top_light[p * lamps_ + l]);
    }
    double* under = top + RadiosityElements::kTopParts * lamps_;
    for (std::size_t u = 0; u < under_parts_[c].size(); ++u)
        for (std::size_t l = 0; l < lamps_; ++l)
            under[static_cast<std::size_t>(under_parts_[c][u]) * lamps_ + l] =
                kTissueReflectance * light.underside_light[u * lamps_ + l];
}

/// rho (E + F B), from the F B of the pass before.
void Radiosity::set_exitance(const DirectLight& direct, const LightState& light,
                             Exitance& exitance) const {
    for (std::size_t i = 0; i < light.bed_light.size(); ++i)
        exitance[i] = sand_reflectance_ * (direct.bed[i] + light.bed_light[i]);
    double* solid = exitance.data() + light.bed_light.size();
    for (std::size_t i = 0; i < light.solid_light.size(); ++i)
        solid[i] =
            tracer_.solids().reflectance(i / lamps_) * (direct.solids[i] + light.solid_light[i]);
    for (std::size_t c = 0; c < tops_.size(); ++c)
        set_colony_exitance(static_cast<int>(c), direct.colonies[c].patch_umol_m2_s,
                            light.colonies[c], exitance);
}

/// One more bounce for all; returns how far the bed's light moved, as a share of its mean.
double Radiosity::jacobi_pass(const DirectLight& direct, const TransmittanceTable& transmittance,
                              const std::vector<ReceiverBatch>& work, const ParallelFor& parallel,
                              LightState& light, Exitance& exitance) const {
    const std::vector<double> before = light.bed_light;
    set_exitance(direct, light, exitance);
    parallel(work.size(), [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i)
            gather(*work[i].group, work[i].first, work[i].last, exitance, transmittance, lamps_,
                   *work[i].light);
    });
    smooth_bed(grid_, open_bed_, lamps_, light.bed_light);
    for (ColonyLightState& colony : light.colonies)
        smooth_rings(lamps_, kTopSharing, colony.top_light);
    double moved = 0.0, all = 0.0;
    for (std::size_t i = 0; i < before.size(); ++i) {
        moved += std::abs(light.bed_light[i] - before[i]);
        all += direct.bed[i] + light.bed_light[i];
    }
    return all > 0.0 ? moved / all : 0.0;
}

Exitance Radiosity::solve(const DirectLight& direct, const LampsToday& today, LightState& light,
                          const ParallelFor& parallel) const {
    Exitance exitance(tracer_.elements().count() * lamps_, 0.0);
    const auto work = batches(light);
    if (lamps_ == 0) return exitance;
    const TransmittanceTable transmittance(today, typical_path_length_m());
    for (int i = 1; i <= kMaxIterations; ++i) {
        const double moved = jacobi_pass(direct, transmittance, work, parallel, light, exitance);
        if (moved < kConverged && i >= kMinIterations) break;
    }
    store_baseline(today, light);
    return exitance;
}

void Radiosity::store_baseline(const LampsToday& today, LightState& light) const {
    for (ColonyLightState& colony : light.colonies) {
        if (!colony.baseline.light.empty() || colony.top_light.empty()) continue;
        colony.baseline.light = colony.top_light;
        for (const auto& lamp : today.lamps) {
            colony.baseline.scale.push_back(lamp.scale);
            colony.baseline.transmittance.push_back(
                lamp.water.transmittance(kPathsOfDiffuse * typical_path_length_m()));
        }
    }
}

std::vector<double> Radiosity::colony_baseline(const BaselineLight& baseline,
                                               const LampsToday& today) const {
    std::vector<double> light = baseline.light;
    for (std::size_t i = 0; i < light.size(); ++i) {
        const std::size_t l = i % lamps_;
        const auto& lamp = today.lamps[l];
        const double then = baseline.scale[l] * baseline.transmittance[l];
        const double now =
            lamp.scale * lamp.water.transmittance(kPathsOfDiffuse * typical_path_length_m());
        light[i] *= then > 0.0 ? now / then : 0.0;
    }
    return light;
}

std::vector<double> Radiosity::points(std::span<const LightReceptor> receptors,
                                      const LampsToday& today, const Exitance& exitance) const {
    ReceiverGroup group{{receptors.begin(), receptors.end()}, -1, kPointPaths, kPointKeys, {}, {}};
    group.parts = sequential_parts(receptors.size(), 1);
    group.links.resize(receptors.size() * kPointPaths);
    std::vector<double> light(receptors.size() * lamps_);
    if (lamps_ == 0) return light;
    trace_links(tracer_, group, 0, receptors.size());
    gather(group, 0, receptors.size(), exitance, TransmittanceTable(today, typical_path_length_m()),
           lamps_, light);
    for (std::size_t i = 0; i < light.size(); ++i)
        light[i] *= HemisphereSampler(receptors[i / lamps_].normal, 0).irradiance_per_exitance();
    return light;
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
