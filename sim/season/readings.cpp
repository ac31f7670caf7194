#include "sim/season/readings.h"

#include <algorithm>
#include <numeric>

#include "sim/season/reef_light.h"

namespace bedshade {
namespace {

LightReceptor sensor_of(const Reading& reading) {
    const Vec3 normal = reading.sensor == Sensor::planar ? Vec3(Vec3::UnitZ()) : Vec3(Vec3::Zero());
    // A sensor laid on the sand stands just clear of it.
    const Vec3 lifted = reading.at_m.cwiseMax(Vec3(0.0, 0.0, 1e-4));
    return {lifted, normal};
}

double model_at(ReefLight& light, Reef reef, const Reading& reading) {
    reef.day_d = reading.on_d;
    light.follow(reef);
    const LightReceptor sensor = sensor_of(reading);
    const auto by_lamp = light.points({&sensor, 1});
    return std::accumulate(by_lamp.begin(), by_lamp.end(), 0.0);
}

/// Median; of an even count the mean of the middle two.
double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace

Calibration calibrate(const Layout& layout) {
    Calibration calibration;
    if (layout.readings.empty()) return calibration;
    const Reef reef = reef_as_set(layout);
    ReefLight light(layout, reef, 1.0);
    std::vector<double> ratios;
    for (const Reading& reading : layout.readings) {
        const double model = model_at(light, reef, reading);
        const double ratio = model > 0.0 ? reading.ppfd_umol_m2_s / model : 0.0;
        calibration.comparisons.push_back({reading, model, ratio});
        if (ratio > 0.0) ratios.push_back(ratio);
    }
    if (ratios.empty()) return calibration;
    calibration.median_ratio = median(std::move(ratios));
    calibration.used = layout.season.use_readings;
    if (calibration.used) calibration.output_scale = calibration.median_ratio;
    return calibration;
}

}  // namespace bedshade
