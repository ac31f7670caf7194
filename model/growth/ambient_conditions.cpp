#include "model/growth/ambient_conditions.h"

#include <algorithm>
#include <cmath>

namespace bedshade {
namespace {

constexpr double kLeastFlow_m_s = 0.002;
constexpr double kWaterResistanceShare =
    0.15;  // share of the boundary layer in the total, in ordinary flow
constexpr double kSpeedExponent = 0.5;
constexpr double kBestPhotosynthesis_C = 28.5;
constexpr double kPhotosynthesisWidth_K = 10.0;
constexpr double kGrowthWidth_K = 6.5;

double gaussian(double distance, double width) {
    return std::exp(-(distance / width) * (distance / width));
}

/// Flow over the ordinary flow.
double relative_flow(const Taxon& taxon, double flow_m_s) {
    return std::max(flow_m_s, kLeastFlow_m_s) / ordinary_flow_m_s(taxon);
}

}  // namespace

double ordinary_flow_m_s(const Taxon& taxon) {
    return std::sqrt(std::max(taxon.flow_low_m_s, kLeastFlow_m_s) * taxon.flow_high_m_s);
}

double transfer_share(const Taxon& taxon, double flow_m_s) {
    const double water = std::pow(relative_flow(taxon, flow_m_s), -kSpeedExponent);
    return 1.0 / (1.0 - kWaterResistanceShare + kWaterResistanceShare * water);
}

double capture_share(const Taxon& taxon, double flow_m_s) {
    const double x = relative_flow(taxon, flow_m_s);
    return x * std::exp(1.0 - x);
}

double respiration_temperature_factor(double temperature_C) {
    // Q10 = 2. With std::pow(2, x) one compiler calls pow and another exp2, which differ in the
    // last bit.
    return std::exp2((temperature_C - kBestGrowth_C) / 10.0);
}

double photosynthesis_temperature_factor(double temperature_C) {
    return gaussian(temperature_C - kBestPhotosynthesis_C, kPhotosynthesisWidth_K) /
           gaussian(kBestGrowth_C - kBestPhotosynthesis_C, kPhotosynthesisWidth_K);
}

double growth_temperature_factor(double temperature_C) {
    return gaussian(temperature_C - kBestGrowth_C, kGrowthWidth_K);
}

AmbientConditions ambient_conditions_of(const Taxon& taxon, double flow_m_s, double food,
                                        double temperature_C) {
    return {transfer_share(taxon, flow_m_s) * photosynthesis_temperature_factor(temperature_C),
            food * capture_share(taxon, flow_m_s), respiration_temperature_factor(temperature_C)};
}

}  // namespace bedshade
