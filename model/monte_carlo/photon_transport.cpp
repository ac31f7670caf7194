#include "model/monte_carlo/photon_transport.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bedshade::monte_carlo {
namespace {

constexpr std::uint64_t kBlock = 1024;    // photons per random stream
constexpr std::size_t kRoundBlocks = 8;   // of every batch, between two progress reports
constexpr double kUnderSurface_m = 1e-6;  // a sensor at the surface is put just below it

/// Area of the part of a disc inside a rectangle with a corner at the origin, by strips across x
/// [m2].
double area_within_m2(const TallyDisc& disc, double length_m, double width_m) {
    constexpr int kStrips = 4000;
    const double low = std::max(0.0, disc.at_m.x() - disc.radius_m);
    const double high = std::min(length_m, disc.at_m.x() + disc.radius_m);
    const double strip_m = (high - low) / kStrips;
    double area_m2 = 0.0;
    for (int i = 0; i < kStrips; ++i) {
        const double x = low + (i + 0.5) * strip_m - disc.at_m.x();
        const double half_m = std::sqrt(std::max(0.0, disc.radius_m * disc.radius_m - x * x));
        const double front = std::max(0.0, disc.at_m.y() - half_m);
        const double back = std::min(width_m, disc.at_m.y() + half_m);
        area_m2 += std::max(0.0, back - front) * strip_m;
    }
    return area_m2;
}

}  // namespace

/// The photons to trace: the same in each batch, block by block, lamp by lamp.
struct PhotonTransport::Plan {
    struct Block {
        std::size_t lamp = 0;
        std::uint64_t photons = 0;
    };
    std::uint64_t seed = 0;
    std::vector<Block> blocks;          // of one batch
    std::vector<std::uint64_t> sent;    // by lamp, over all batches
    std::vector<double> photon_umol_s;  // by lamp
};

PhotonTransport::PhotonTransport(Scene scene, const BedGrid& bed, std::vector<TallyDisc> sensors)
    : scene_(std::move(scene)),
      bed_(bed),
      sensors_(std::move(sensors)),
      optics_(optics_of(scene_.water)),
      obstacles_(scene_.bodies) {
    for (TallyDisc& sensor : sensors_)
        sensor.at_m.z() = std::min(sensor.at_m.z(), scene_.tank.water_depth_m - kUnderSurface_m);
    for (const Lamp& lamp : scene_.lamps) sources_.emplace_back(lamp);
}

PhotonTransport::Plan PhotonTransport::plan(const PhotonCount& count) const {
    std::vector<double> flux_umol_s;
    double all_umol_s = 0.0;
    for (const Lamp& lamp : scene_.lamps) {
        flux_umol_s.push_back(count.output_scale * lamp.output * lamp.photon_flux_umol_s);
        all_umol_s += flux_umol_s.back();
    }
    Plan plan;
    plan.seed = count.seed;
    for (std::size_t l = 0; l < flux_umol_s.size(); ++l) {
        const double share = all_umol_s > 0.0 ? flux_umol_s[l] / all_umol_s : 0.0;
        const double per_batch = share * static_cast<double>(count.photons) / kBatches;
        const auto photons = share > 0.0 ? static_cast<std::uint64_t>(std::ceil(per_batch)) : 0;
        for (std::uint64_t done = 0; done < photons; done += kBlock)
            plan.blocks.push_back({l, std::min(kBlock, photons - done)});
        plan.sent.push_back(kBatches * photons);
        plan.photon_umol_s.push_back(
            photons > 0 ? flux_umol_s[l] / static_cast<double>(plan.sent.back()) : 0.0);
    }
    return plan;
}

void PhotonTransport::trace_block(const Plan& plan, std::size_t block, std::uint32_t batch,
                                  BatchTally& tally) const {
    RandomStream random(plan.seed, 0, Process::monte_carlo, static_cast<std::int32_t>(batch),
                        static_cast<std::uint32_t>(block));
    const TransportContext context{scene_, obstacles_, optics_, bed_, sensors_};
    const auto [lamp, photons] = plan.blocks[block];
    PhotonHistory history(context, lamp, random, tally);
    for (std::uint64_t p = 0; p < photons; ++p) {
        const End end = history.follow(sources_[lamp]);
        ++tally.ended[static_cast<std::size_t>(end) * sources_.size() + lamp];
    }
}

std::vector<double> PhotonTransport::areas_m2() const {
    std::vector<double> area_m2(bed_.size(), bed_.cell_area_m2());
    for (const TallyDisc& sensor : sensors_)
        area_m2.push_back(area_within_m2(sensor, scene_.tank.length_m, scene_.tank.width_m));
    return area_m2;
}

std::optional<Tally> PhotonTransport::run(const PhotonCount& count, const ParallelFor& parallel,
                                          const std::function<bool(double)>& on_progress) const {
    const Plan plan = this->plan(count);
    const std::size_t blocks = plan.blocks.size();
    std::vector<BatchTally> batches(kBatches,
                                    BatchTally(bed_.size() + sensors_.size(), sources_.size()));
    for (std::size_t first = 0; first < blocks; first += kRoundBlocks) {
        const std::size_t last = std::min(blocks, first + kRoundBlocks);
        parallel(batches.size(), [&](std::size_t begin, std::size_t end) {
            for (std::size_t b = begin; b < end; ++b)
                for (std::size_t block = first; block < last; ++block)
                    trace_block(plan, block, static_cast<std::uint32_t>(b), batches[b]);
        });
        if (!on_progress(static_cast<double>(last) / static_cast<double>(blocks)))
            return std::nullopt;
    }
    return Tally(std::move(batches), plan.photon_umol_s, plan.sent, areas_m2());
}

}  // namespace bedshade::monte_carlo
