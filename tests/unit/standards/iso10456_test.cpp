// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso10456.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace wallfoot::iso10456 {
namespace {

// F_m of ISO 10456, formula from memory; the numbers are exp() by hand.
TEST(Iso10456, MoistureFactors) {
    const struct {
        double coefficient, change, factor;
    } table[] = {{4, 0.02, 1.083}, {4, 0.05, 1.2214}, {4, 0.10, 1.492}, {4, 0.15, 1.8221}, {4, 0.20, 2.226}, {10, 0.02, 1.221}};
    for (const auto& line : table) {
        EXPECT_NEAR(moisture_factor_by_mass(line.coefficient, 0.01, 0.01 + line.change), line.factor, 5e-4);
        EXPECT_NEAR(moisture_factor_by_volume(line.coefficient, 0.01, 0.01 + line.change), line.factor, 5e-4);
    }
    EXPECT_NEAR(moisture_factor_by_mass(4, 0, 0.05), 1.2214, 5e-5);
    EXPECT_NEAR(moisture_factor_by_mass(4, 0, 0.15), 1.8221, 5e-5);
    // One step after the other multiplies, and back again is 1 (exact).
    EXPECT_NEAR(moisture_factor_by_mass(4, 0, 0.05) * moisture_factor_by_mass(4, 0.05, 0.15),
                moisture_factor_by_mass(4, 0, 0.15), 1e-14);
    EXPECT_NEAR(moisture_factor_by_mass(4, 0.02, 0.1) * moisture_factor_by_mass(4, 0.1, 0.02), 1, 1e-14);
    EXPECT_THROW(moisture_factor_by_volume(4, 0, 1.1), OutsideStandard);
}

// F_T of ISO 10456, formula from memory.
TEST(Iso10456, TemperatureFactor) {
    EXPECT_NEAR(temperature_factor(0.005, 10, 20), std::exp(0.05), 1e-15);
    EXPECT_EQ(temperature_factor(0.005, 10, 10), 1);
    EXPECT_LT(temperature_factor(0.005, 10, 0), 1);
}

// u·ρ/ρ_w: 5 % by mass in 500 kg/m³ is 2.5 % by volume.
TEST(Iso10456, VolumeFromMass) { EXPECT_DOUBLE_EQ(moisture_by_volume(0.05, 500), 0.025); }

// Aerated concrete: f_u = 4, valid below 0.25 kg/kg (ISO 10456 table 4, from memory).
TEST(Iso10456, ConversionStartsAtTheStatedMoisture) {
    const MoistureConversion aerated{4, 0.25};
    EXPECT_NEAR(convert_moisture(0.15, aerated, 0, 0.05), 0.15 * 1.2214, 1e-5);
    EXPECT_NEAR(convert_moisture(0.15, aerated, 0.045, 0.05), 0.15 * std::exp(0.02), 1e-12);
    EXPECT_NEAR(convert_moisture(0.15, aerated, 0.05, 0), 0.15 / 1.2214, 1e-5);
    EXPECT_EQ(convert_moisture(0.15, aerated, 0.05, 0.05), 0.15);
}

TEST(Iso10456, RefusesBeyondTheStatedValidity) {
    const MoistureConversion aerated{4, 0.25};
    EXPECT_NO_THROW(convert_moisture(0.15, aerated, 0, 0.25));
    for (auto [from, to] : {std::pair{0.0, 0.26}, {0.26, 0.0}, {0.0, std::nan("")}, {-0.01, 0.1}})
        EXPECT_THROW(convert_moisture(0.15, aerated, from, to), OutsideStandard) << from << ' ' << to;
    try {
        convert_moisture(0.15, aerated, 0, 0.4);
        FAIL();
    } catch (const OutsideStandard& outside) {
        EXPECT_EQ(outside.code(), "moisture-beyond-validity");
        EXPECT_EQ(outside.args().at("moisture"), "0.4");
        EXPECT_EQ(outside.args().at("valid_to"), "0.25");
    }
    EXPECT_THROW(convert_moisture(0, aerated, 0, 0.1), OutsideStandard);
}

}  // namespace
}  // namespace wallfoot::iso10456
