// Stress on the bed's grains against the law of the wall worked by hand and by two other codes.
#include "model/flow/bed_stress.h"

#include <catch2/catch.hpp>

#include "model/sediment/grains.h"

using namespace bedshade;

namespace {

constexpr Seawater kSea{1023.34, 1023.34 * 9.373e-7};

/// Speed at a height that just moves a grain, by bisection.
double threshold_speed_m_s(const Grain& grain, double height_m) {
    double low = 0.0, high = 2.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        const double stress = bed_stress_Pa(middle, height_m, grain.diameter_m, kSea);
        (stress < critical_stress_Pa(grain, kSea) ? low : high) = middle;
    }
    return high;
}

}  // namespace

TEST_CASE("the law of the wall over rough sand") {
    // 0.2 m/s at 5 cm over 1 mm sand: z0 = d/12, u* = 0.012506 m/s, 0.16005 Pa.
    const double u = friction_velocity_m_s(0.2, 0.05, rough_z0_m(1e-3));
    CHECK(u == Approx(0.012506).margin(1e-5));
    CHECK(kSea.density_kg_m3 * u * u == Approx(0.16005).margin(1e-5));
    // 0.2 m/s at 1 cm over 0.5 mm sand: 0.21804 Pa.
    const double v = friction_velocity_m_s(0.2, 0.01, rough_z0_m(0.5e-3));
    CHECK(kSea.density_kg_m3 * v * v == Approx(0.21804).margin(1e-5));
}

TEST_CASE("roughness turns fully rough at high grain Reynolds numbers") {
    // Christoffersen & Jonsson 1985: within a few percent of d/12 above u* ks/nu = 70 or so.
    const double d = 5e-3;
    CHECK(transitional_z0_m(d, 0.1, kSea) == Approx(rough_z0_m(d)).epsilon(0.02));
    CHECK(transitional_z0_m(1e-4, 0.01, kSea) > 1.2 * rough_z0_m(1e-4));
}

TEST_CASE("speeds that start to move aragonite sand") {
    // Threshold of Soulsby & Whitehouse 1997 with transitional roughness; two independent codes.
    struct Row {
        double mm, at_1_cm, at_5_cm;
    };
    for (const auto& row : {Row{0.2, 0.213, 0.264}, Row{0.5, 0.238, 0.304}, Row{1.0, 0.286, 0.381},
                            Row{2.0, 0.386, 0.538}}) {
        const Grain grain{row.mm * 1e-3, 2850.0};
        CHECK(threshold_speed_m_s(grain, 0.01) == Approx(row.at_1_cm).margin(1e-3));
        CHECK(threshold_speed_m_s(grain, 0.05) == Approx(row.at_5_cm).margin(1e-3));
    }
}
