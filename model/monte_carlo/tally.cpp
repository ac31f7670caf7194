#include "model/monte_carlo/tally.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>
#include <utility>

namespace bedshade::monte_carlo {

const char* to_string(End end) {
    switch (end) {
        case End::missed:
            return "fell beside the tank";
        case End::cover:
            return "kept by the cover";
        case End::above:
            return "left through the top";
        case End::panes:
            return "left through the panes";
        case End::water:
            return "absorbed by water";
        case End::sand:
            return "absorbed by sand";
        case End::rock:
            return "absorbed by rock";
        case End::corals:
            return "absorbed by corals";
        case End::walls:
            return "absorbed by walls";
        case End::followed:
            return "still under way";
    }
    return "";
}

Tally::Tally(std::vector<BatchTally> batches, std::vector<double> photon_umol_s,
             std::vector<std::uint64_t> sent, std::vector<double> area_m2)
    : batches_(std::move(batches)),
      photon_umol_s_(std::move(photon_umol_s)),
      sent_(std::move(sent)),
      area_m2_(std::move(area_m2)) {
    assert(batches_.size() >= 2);
}

LightEstimate Tally::light_at(std::size_t place) const {
    const auto count = static_cast<double>(batches_.size());
    LightEstimate light;
    light.by_lamp_umol_m2_s.assign(lamps(), 0.0);
    double sum = 0.0, sum_of_squares = 0.0;
    for (const BatchTally& batch : batches_) {
        double batch_umol_m2_s = 0.0;
        for (std::size_t l = 0; l < lamps(); ++l) {
            const double lamp_umol_m2_s =
                batch.landed[place * lamps() + l] * photon_umol_s_[l] / area_m2_[place];
            light.by_lamp_umol_m2_s[l] += lamp_umol_m2_s;
            batch_umol_m2_s += count * lamp_umol_m2_s;
        }
        sum += batch_umol_m2_s;
        sum_of_squares += batch_umol_m2_s * batch_umol_m2_s;
    }
    light.ppfd_umol_m2_s = sum / count;
    const double variance =
        std::max(0.0, sum_of_squares - sum * sum / count) / (count * (count - 1.0));
    light.stderr_umol_m2_s = std::sqrt(variance);
    return light;
}

std::uint64_t Tally::sent() const {
    return std::accumulate(sent_.begin(), sent_.end(), std::uint64_t{0});
}

std::uint64_t Tally::ended(End end) const {
    std::uint64_t photons = 0;
    for (const BatchTally& batch : batches_)
        for (std::size_t l = 0; l < lamps(); ++l)
            photons += batch.ended[static_cast<std::size_t>(end) * lamps() + l];
    return photons;
}

double Tally::sent_umol_s() const {
    double flux = 0.0;
    for (std::size_t l = 0; l < lamps(); ++l)
        flux += photon_umol_s_[l] * static_cast<double>(sent_[l]);
    return flux;
}

double Tally::ended_umol_s(End end) const {
    double flux = 0.0;
    for (const BatchTally& batch : batches_)
        for (std::size_t l = 0; l < lamps(); ++l)
            flux += photon_umol_s_[l] *
                    static_cast<double>(batch.ended[static_cast<std::size_t>(end) * lamps() + l]);
    return flux;
}

}  // namespace bedshade::monte_carlo
