#include "model/light/transport_links.h"

#include <algorithm>

#include "model/light/hemisphere.h"

namespace bedshade {
namespace {

constexpr double kLongest_m = 10.0, kPerMetre = 100.0;

std::uint32_t u32(std::size_t i) { return static_cast<std::uint32_t>(i); }

}  // namespace

TransmittanceTable::TransmittanceTable(const LampsToday& today, double typical_path_m) {
    const auto lengths = static_cast<std::size_t>(kLongest_m * kPerMetre) + 1;
    for (const LampsToday::Lamp& lamp : today.lamps) {
        const double first = lamp.water.transmittance(typical_path_m);
        auto& row = rows_.emplace_back(lengths);
        for (std::size_t i = 0; i < lengths; ++i) {
            const double path_m = (static_cast<double>(i) + 0.5) / kPerMetre;
            row[i] = static_cast<float>(lamp.water.transmittance(typical_path_m + path_m) / first);
        }
    }
}

std::size_t TransmittanceTable::cm(float length_m) const {
    return std::min(static_cast<std::size_t>(length_m * kPerMetre), rows_.front().size() - 1);
}

std::vector<SequencePart> sequential_parts(std::size_t receptors, std::size_t sharing) {
    std::vector<SequencePart> parts(receptors);
    for (std::size_t r = 0; r < receptors; ++r) parts[r] = {u32(r / sharing), u32(r % sharing)};
    return parts;
}

std::vector<SequencePart> bed_parts(const BedGrid& grid) {
    std::vector<SequencePart> parts(grid.size());
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i)
            parts[grid.index(i, j)] = {u32(grid.index(i / 2, j / 2)),
                                       static_cast<std::uint32_t>(2 * (j % 2) + i % 2)};
    return parts;
}

void trace_links(const LinkTracer& tracer, ReceiverGroup& group, std::size_t first,
                 std::size_t last) {
    const auto paths = static_cast<std::uint32_t>(group.paths);
    for (std::size_t r = first; r < last; ++r) {
        const LightReceptor& receptor = group.receptors[r];
        const SequencePart part = group.parts[r];
        const HemisphereSampler sampler(receptor.normal, group.key + part.set);
        for (std::uint32_t p = 0; p < paths; ++p)
            group.links[r * paths + p] =
                tracer.follow(sample_point(receptor, p, sampler.shift()).cast<float>(),
                              sampler.direction(part.part * paths + p), group.owner,
                              (group.key + u32(r)) * paths + p);
    }
}

void gather(const ReceiverGroup& group, std::size_t first, std::size_t last,
            std::span<const double> exitance, const TransmittanceTable& transmittance,
            std::size_t lamps, std::span<double> light) {
    const auto paths = static_cast<std::size_t>(group.paths);
    for (std::size_t r = first; r < last; ++r) {
        double* sum = light.data() + r * lamps;
        std::fill_n(sum, lamps, 0.0);
        for (std::size_t p = r * paths; p < (r + 1) * paths; ++p) {
            const TransportLink& link = group.links[p];
            if (link.element < 0) continue;
            const double* emitted =
                exitance.data() + static_cast<std::size_t>(link.element) * lamps;
            const std::size_t cm = transmittance.cm(link.length_m);
            for (std::size_t l = 0; l < lamps; ++l)
                sum[l] += static_cast<double>(link.weight * transmittance.at(l, cm)) * emitted[l];
        }
        for (std::size_t l = 0; l < lamps; ++l) sum[l] /= group.paths;
    }
}

}  // namespace bedshade
