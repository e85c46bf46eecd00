// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso13788.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace wallfoot::iso13788 {
namespace {

// ISO 13788:2012 annex E formulas (from memory), evaluated by hand; 611.2 Pa at 0 °C and 2339 Pa at 20 °C in steam
// tables agree within 0.2 %.
TEST(Iso13788, SaturationPressure) {
    const struct {
        double celsius, pascal;
    } table[] = {{-5, 401.2}, {0, 610.5}, {5, 871.9}, {10, 1227.3}, {12.6, 1458.2}, {15, 1704.4}, {20, 2337.0}, {25, 3165.9}};
    for (const auto& line : table) EXPECT_NEAR(saturation_pressure(line.celsius), line.pascal, 0.5) << line.celsius;
    EXPECT_NEAR(saturation_pressure(20) / 2339, 1, 0.002);
}

TEST(Iso13788, InverseOnBothBranches) {
    for (double celsius = -40; celsius <= 60; celsius += 0.5)
        EXPECT_NEAR(saturation_temperature(saturation_pressure(celsius)), celsius, 1e-10);
    EXPECT_EQ(saturation_temperature(610.5), 0);
    EXPECT_NEAR(saturation_temperature(std::nextafter(610.5, 0)), 0, 1e-10);
    EXPECT_THROW(saturation_temperature(0), OutsideStandard);
    EXPECT_THROW(saturation_pressure(-300), OutsideStandard);
    EXPECT_THROW(saturation_pressure(std::nan("")), OutsideStandard);
}

// 20 °C, 50 %: dew point 9.3, limit 12.6 °C and f 0.70 at −5 °C are the well-known figures of DIN 4108-2.
TEST(Iso13788, DewPointAndLimit) {
    EXPECT_NEAR(dew_point(20, 0.5), 9.27, 0.02);
    const double limit = required_surface_temperature(0.5 * saturation_pressure(20));
    EXPECT_NEAR(limit, 12.62, 0.02);
    EXPECT_NEAR(temperature_factor(limit, -5, 20), 0.705, 0.001);
    EXPECT_NEAR(dew_point(20, 0.6), 12.00, 0.02);
    EXPECT_NEAR(required_surface_temperature(0.6 * saturation_pressure(20)), 15.43, 0.02);
    EXPECT_NEAR(dew_point(20, 1), 20, 1e-12);
    EXPECT_NEAR(required_surface_temperature(0.5 * saturation_pressure(20), 1.0), dew_point(20, 0.5), 1e-12);
    EXPECT_THROW(dew_point(20, 0), OutsideStandard);
    EXPECT_THROW(dew_point(20, 1.01), OutsideStandard);
}

// Annex A, from memory: greatest excess up to 0 °C, straight to zero at 20 °C.
TEST(Iso13788, HumidityClasses) {
    const struct {
        HumidityClass humidity_class;
        double pascal;
    } table[] = {{HumidityClass::c1, 270}, {HumidityClass::c2, 540}, {HumidityClass::c3, 810}, {HumidityClass::c4, 1080}};
    for (const auto& line : table) {
        EXPECT_EQ(vapour_excess(line.humidity_class, -10), line.pascal);
        EXPECT_EQ(vapour_excess(line.humidity_class, 0), line.pascal);
        EXPECT_EQ(vapour_excess(line.humidity_class, 10), line.pascal / 2);
        EXPECT_EQ(vapour_excess(line.humidity_class, 20), 0);
        EXPECT_EQ(vapour_excess(line.humidity_class, 25), 0);
    }
    try {
        vapour_excess(HumidityClass::c5, 0);
        FAIL();
    } catch (const OutsideStandard& outside) {
        EXPECT_EQ(outside.code(), "humidity-class-open");
    }
}

// Worked by hand from the formulas.
TEST(Iso13788, RequiredInAMonth) {
    EXPECT_EQ(vapour_excess(HumidityClass::c3, 5), 607.5);
    EXPECT_NEAR(0.85 * saturation_pressure(5), 741.1, 0.1);
    const MonthRequirement mild = required_in_month({5, 0.85, 20}, HumidityClass::c3);
    EXPECT_NEAR(mild.inside_pressure_Pa, 1409.3, 0.5);
    EXPECT_NEAR(mild.inside_relative_humidity, 0.603, 0.001);
    EXPECT_NEAR(mild.surface_celsius, 15.51, 0.03);
    EXPECT_NEAR(mild.fRsi, 0.701, 0.002);
    const MonthRequirement cold = required_in_month({0, 0.95, 20}, HumidityClass::c3);
    EXPECT_NEAR(cold.inside_pressure_Pa, 1471, 0.5);
    EXPECT_NEAR(cold.surface_celsius, 16.18, 0.03);
    EXPECT_NEAR(cold.fRsi, 0.809, 0.002);
}

TEST(Iso13788, CriticalMonth) {
    const std::vector<Month> months = {{5, 0.85, 20}, {0, 0.95, 20}, {22, 0.8, 20}, {20, 0.7, 20}, {0, 0.95, 20}};
    EXPECT_EQ(critical_month(months, HumidityClass::c3), 1u);
    EXPECT_EQ(critical_month({months[2], months[3]}, HumidityClass::c3), std::nullopt);
    EXPECT_EQ(critical_month({}, HumidityClass::c3), std::nullopt);
    EXPECT_THROW(required_in_month(months[3], HumidityClass::c3), OutsideStandard);
}

}  // namespace
}  // namespace wallfoot::iso13788
