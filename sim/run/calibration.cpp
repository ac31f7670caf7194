#include "sim/run/calibration.h"

#include <algorithm>
#include <numeric>

#include "sim/run/reef_light.h"

namespace bedshade {
namespace {

LightReceptor sensor_of(const Reading& reading) {
    const Vec3 normal = reading.sensor == Sensor::planar ? Vec3(Vec3::UnitZ()) : Vec3(Vec3::Zero());
    // A sensor laid on the sand stands just clear of it.
    const Vec3 lifted = reading.at_m.cwiseMax(Vec3(0.0, 0.0, 1e-4));
    return {lifted, normal};
}

double total(const std::vector<double>& by_lamp) {
    return std::accumulate(by_lamp.begin(), by_lamp.end(), 0.0);
}

/// Median; of an even count the mean of the middle two.
double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace

std::vector<std::vector<double>> lamp_light_at(const Layout& layout,
                                               const std::vector<Reading>& readings) {
    ReefLight light(layout, 1.0);
    Reef reef = baseline_reef(layout);
    reef.light = light.baseline().state;
    std::vector<std::vector<double>> by_reading;
    for (const Reading& reading : readings) {
        reef.day_d = reading.on_d;
        const ReefLightObservation today = light.observe(reef);
        reef.light = today.state;
        const LightReceptor sensor = sensor_of(reading);
        by_reading.push_back(light.points(today, {&sensor, 1}));
    }
    return by_reading;
}

Calibration calibrate(const Layout& layout) {
    Calibration calibration;
    if (layout.readings.empty()) return calibration;
    const auto by_reading = lamp_light_at(layout, layout.readings);
    std::vector<double> ratios;
    for (std::size_t i = 0; i < layout.readings.size(); ++i) {
        const Reading& reading = layout.readings[i];
        const double model = total(by_reading[i]);
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
