// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso6946.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace wallfoot::iso6946 {
namespace {

std::string refusal(auto&& call) {
    try {
        call();
    } catch (const OutsideStandard& outside) {
        return outside.code();
    }
    return "accepted";
}

// ISO 6946:2017, table 7, from memory.
TEST(Iso6946, SurfaceResistances) {
    EXPECT_EQ(inside_surface_resistance(Direction::up), 0.10);
    EXPECT_EQ(inside_surface_resistance(Direction::horizontal), 0.13);
    EXPECT_EQ(inside_surface_resistance(Direction::down), 0.17);
    EXPECT_EQ(outside_surface_resistance, 0.04);
}

// Exact arithmetic: 0.13 + 0.1/0.50 + 0.1/0.032 + 0.1/0.77 + 0.04.
TEST(Iso6946, PlaneWall) {
    const double r = total_resistance(
        0.13, {layer_resistance(0.1, 0.50), layer_resistance(0.1, 0.032), layer_resistance(0.1, 0.77)}, 0.04);
    EXPECT_NEAR(transmittance(r), 0.27587, 1e-5);
    EXPECT_NEAR(1 - transmittance(r) * 0.13, 0.96414, 1e-5);
}

TEST(Iso6946, ImpossibleLayersAreRefused) {
    EXPECT_EQ(refusal([] { layer_resistance(0.1, 0); }), "not-above-zero");
    EXPECT_EQ(refusal([] { layer_resistance(-0.1, 1); }), "below-zero");
    EXPECT_EQ(refusal([] { layer_resistance(0.1, std::nan("")); }), "not-above-zero");
    EXPECT_EQ(refusal([] { total_resistance(-0.1, {}, 0.04); }), "below-zero");
    EXPECT_EQ(refusal([] { transmittance(0); }), "not-above-zero");
}

// ISO 6946:2017, table 8 (faces of high emissivity), from memory.
TEST(Iso6946, UnventilatedAirspaces) {
    const struct {
        double mm, up, horizontal, down;
    } table[] = {{0, 0, 0, 0},          {5, 0.11, 0.11, 0.11},  {7, 0.13, 0.13, 0.13},
                 {10, 0.15, 0.15, 0.15}, {15, 0.16, 0.17, 0.17}, {25, 0.16, 0.18, 0.19},
                 {50, 0.16, 0.18, 0.21}, {100, 0.16, 0.18, 0.22}, {300, 0.16, 0.18, 0.23},
                 // between the lines: arithmetic
                 {20, 0.16, 0.175, 0.18}, {2.5, 0.055, 0.055, 0.055}, {75, 0.16, 0.18, 0.215}};
    for (const auto& line : table) {
        EXPECT_NEAR(unventilated_airspace_resistance(line.mm / 1000, Direction::up), line.up, 1e-12) << line.mm;
        EXPECT_NEAR(unventilated_airspace_resistance(line.mm / 1000, Direction::horizontal), line.horizontal, 1e-12)
            << line.mm;
        EXPECT_NEAR(unventilated_airspace_resistance(line.mm / 1000, Direction::down), line.down, 1e-12) << line.mm;
    }
    EXPECT_EQ(refusal([] { unventilated_airspace_resistance(0.301, Direction::up); }), "outside-range");
    EXPECT_EQ(refusal([] { unventilated_airspace_resistance(-0.001, Direction::up); }), "outside-range");
}

// ISO 6946:2017, 6.9.2 to 6.9.4, from memory; the mean at 1000 mm² is arithmetic.
TEST(Iso6946, VentilatedAirspaces) {
    EXPECT_EQ(airspace_ventilation(500), Ventilation::unventilated);
    EXPECT_EQ(airspace_ventilation(501), Ventilation::slightly);
    EXPECT_EQ(airspace_ventilation(1500), Ventilation::well);
    EXPECT_DOUBLE_EQ(ventilated_total_resistance(4.0, 3.0, 1000), 3.5);
    EXPECT_DOUBLE_EQ(ventilated_total_resistance(4.0, 3.0, 750), 3.75);
    EXPECT_DOUBLE_EQ(ventilated_total_resistance(4.0, 3.0, 500), 4.0);
    EXPECT_DOUBLE_EQ(ventilated_total_resistance(4.0, 3.0, 2000), 3.0);
}

// Worked by hand from the formulas of 6.7.2 (from memory): block 440 × 215 with 10 mm joints is 6.57 % mortar.
TEST(Iso6946, CombinedMethodWorkedWall) {
    const double mortar = 1 - 440.0 * 215 / (450.0 * 225);
    EXPECT_NEAR(mortar, 0.0657, 5e-5);
    const CombinedResistance r = combined_method(
        0.13,
        {{0.1, {{1 - mortar, 0.15}, {mortar, 0.88}}}, {0.1, {{1, 0.032}}}, {0.1, {{1, 0.77}}}}, 0.04);
    EXPECT_NEAR(r.upper, 4.0500, 1e-4);
    EXPECT_NEAR(r.lower, 3.9301, 1e-4);
    EXPECT_NEAR(r.total, 3.9900, 1e-4);
    EXPECT_NEAR(transmittance(r.total), 0.2506, 1e-4);
    EXPECT_NEAR(r.relative_error, (4.0500 - 3.9301) / (2 * 3.9900), 1e-4);
}

// The limits coincide for homogeneous layers, and the upper is never below the lower (exact).
TEST(Iso6946, CombinedMethodLimits) {
    const CombinedResistance plain = combined_method(0.13, {{0.1, {{1, 0.5}}}, {0.2, {{0.5, 0.04}, {0.5, 0.04}}}}, 0.04);
    EXPECT_NEAR(plain.upper, 0.13 + 0.2 + 5 + 0.04, 1e-12);
    EXPECT_NEAR(plain.lower, plain.upper, 1e-12);
    EXPECT_NEAR(plain.relative_error, 0, 1e-12);
    // Two independent patterns: four paths, by hand.
    const CombinedResistance two = combined_method(0.1, {{0.1, {{0.9, 0.1}, {0.1, 0.2}}}, {0.1, {{0.8, 0.1}, {0.2, 0.2}}}}, 0.1);
    EXPECT_NEAR(two.upper, 1 / (0.72 / 2.2 + 0.18 / 1.7 + 0.08 / 1.7 + 0.02 / 1.2), 1e-12);
    EXPECT_NEAR(two.lower, 0.2 + 0.1 / 0.11 + 0.1 / 0.12, 1e-12);
    EXPECT_GE(two.upper, two.lower);
}

// 6.7.2, from memory: not above R′/R″ = 1.5, not for metal through insulation.
TEST(Iso6946, CombinedMethodRefuses) {
    // R′/R″ by hand: 2.787/1.865 = 1.494 and 2.180/1.087 = 2.01.
    EXPECT_EQ(refusal([] { combined_method(0.13, {{0.2, {{0.9, 0.02}, {0.1, 1.0}}}}, 0.04); }), "accepted");
    EXPECT_EQ(refusal([] { combined_method(0.13, {{0.2, {{0.9, 0.02}, {0.1, 2.0}}}}, 0.04); }), "combined-method-ratio");
    EXPECT_EQ(refusal([] { combined_method(0.13, {{0.1, {{0.999, 0.04}, {0.001, 50, true}}}}, 0.04); }),
              "combined-method-metal");
    EXPECT_EQ(refusal([] { combined_method(0.13, {{0.1, {{0.9, 0.04}}}}, 0.04); }), "fractions-not-one");
    EXPECT_EQ(refusal([] { combined_method(0.13, {{0.1, {}}}, 0.04); }), "fractions-not-one");
    const MixedLayer many{0.1, std::vector<Part>(10, Part{0.1, 1})};
    EXPECT_EQ(refusal([&] { combined_method(0.13, {5, many}, 0.04); }), "combined-method-paths");
    EXPECT_EQ(refusal([] { combined_method(0.13, {{0.001, {{1, 50, true}}}}, 0.04); }), "accepted");
}

// Annex F from memory; the numbers worked by hand: 2.5 ties of 12.5 mm² per m² through 100 mm of 0.032.
TEST(Iso6946, Corrections) {
    const double insulation = 3.125, total = 1 / 0.27587;
    Fixings ties{.conductivity = 17, .section_area_m2 = 12.5e-6, .per_m2 = 2.5, .insulation_thickness_m = 0.1,
                 .length_in_insulation_m = 0.1};
    EXPECT_NEAR(fixings_correction(ties, insulation, total), 0.0032, 1e-4);
    EXPECT_EQ(corrected_transmittance(0.27587, fixings_correction(ties, insulation, total)), 0.27587);  // 1.1 %
    ties.conductivity = 50;
    EXPECT_NEAR(fixings_correction(ties, insulation, total), 0.0093, 1e-4);
    EXPECT_NEAR(corrected_transmittance(0.27587, fixings_correction(ties, insulation, total)), 0.2852, 1e-4);  // 3.4 %
    ties.length_in_insulation_m = 0.05;
    EXPECT_NEAR(fixings_correction(ties, insulation, total), 0.0093 / 2, 1e-4);
    ties.across_empty_cavity = true;
    EXPECT_EQ(fixings_correction(ties, insulation, total), 0);
    ties.across_empty_cavity = false;
    ties.conductivity = 0.9;
    EXPECT_EQ(fixings_correction(ties, insulation, total), 0);

    EXPECT_EQ(air_gap_correction(0, 3, 4), 0);
    EXPECT_DOUBLE_EQ(air_gap_correction(1, 3, 4), 0.01 * 0.5625);
    EXPECT_DOUBLE_EQ(air_gap_correction(2, 3, 4), 0.04 * 0.5625);
    EXPECT_EQ(refusal([] { air_gap_correction(3, 3, 4); }), "outside-range");
    EXPECT_EQ(refusal([] { air_gap_correction(1, 5, 4); }), "outside-range");
}

}  // namespace
}  // namespace wallfoot::iso6946
