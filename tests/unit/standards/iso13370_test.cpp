// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso13370.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace wallfoot::iso13370 {
namespace {

// Slab formulas of ISO 13370:2017 (from memory), numbers worked by hand: wall 0.3 m, clay 1.5 W/(m·K), films 0.17 and
// 0.04; characteristic dimension 2/(P/A).
TEST(Iso13370, SlabByPerimeterOverArea) {
    const double ratios[] = {0.1, 0.2, 0.3, 0.4, 0.5, 0.55, 0.6, 0.8, 1.0};
    const struct {
        double floor_resistance;
        double transmittance[9];
    } table[] = {{0.0, {0.219, 0.370, 0.495, 0.603, 0.698, 0.741, 0.783, 0.929, 1.051}},
                 {1.0, {0.158, 0.247, 0.311, 0.359, 0.396, 0.411, 0.425, 0.467, 0.495}},
                 {2.5, {0.122, 0.176, 0.208, 0.228, 0.242, 0.249, 0.255, 0.272, 0.284}}};
    EXPECT_NEAR(equivalent_thickness(0.3, 1.5, 0.17, 0, 0.04), 0.615, 1e-12);
    for (const auto& line : table)
        for (int i = 0; i < 9; ++i) {
            const double d = equivalent_thickness(0.3, 1.5, 0.17, line.floor_resistance, 0.04);
            const double u = slab_transmittance(characteristic_dimension(1, ratios[i]), d, 1.5);
            EXPECT_NEAR(u, line.transmittance[i], 0.001) << "P/A " << ratios[i] << ", R_f " << line.floor_resistance;
        }
}

// Floor P = 33.8 m, A = 58.89 m², clay, not insulated: geometry of a public textbook example, arithmetic by hand (the
// example takes the tabled row 0.55 and gives 0.74).
TEST(Iso13370, LShapedHouse) {
    const double b = characteristic_dimension(58.89, 33.8);
    EXPECT_NEAR(b, 3.485, 0.001);
    EXPECT_NEAR(slab_transmittance(b, 0.615, 1.5), 0.761, 0.001);
}

// 10 × 8 m detached, sand 2.0: both formulas; arithmetic by hand.
TEST(Iso13370, BothBranches) {
    const double b = characteristic_dimension(80, 36);
    EXPECT_NEAR(b, 4.444, 0.001);
    const struct {
        double floor_resistance, thickness, transmittance;
    } table[] = {{0, 0.72, 0.821}, {1, 2.72, 0.435}, {2.5, 5.72, 0.258}, {4, 8.72, 0.186}};
    for (const auto& line : table) {
        const double d = equivalent_thickness(0.3, 2.0, 0.17, line.floor_resistance, 0.04);
        EXPECT_NEAR(d, line.thickness, 1e-12);
        EXPECT_NEAR(slab_transmittance(b, d, 2.0), line.transmittance, 0.001) << line.floor_resistance;
    }
    // The formulas meet at d_f = B within 1 %; the second holds from there on.
    const double just_below = slab_transmittance(b, std::nextafter(b, 0), 2.0), at = slab_transmittance(b, b, 2.0);
    EXPECT_NEAR(just_below / at, 1, 0.01);
    EXPECT_DOUBLE_EQ(at, 2.0 / (1.457 * b));
    EXPECT_NE(just_below, at);
}

// Strips of 8 m: a well insulated one by hand, and an isothermal one against the exact heat flow of a half space under a
// strip with linear fall across the wall, of which the formula is known to be 2 % off.
TEST(Iso13370, Strips) {
    const double d = equivalent_thickness(0.3, 1.5, 0.17, 4.140, 0.04);
    EXPECT_NEAR(d, 6.825, 0.001);
    EXPECT_NEAR(slab_transmittance(8, d, 1.5), 0.1449, 1e-4);
    const double w = 0.3, width = 8, lambda = 1.5;
    const double exact = 2 * lambda / (std::numbers::pi * w) *
                         ((width + w) * std::log(width + w) - w * std::log(w) - width * std::log(width)) / width;
    EXPECT_NEAR(exact, 0.5135, 1e-4);
    EXPECT_NEAR(slab_transmittance(width, w, lambda), 0.524, 0.001);
    EXPECT_NEAR(slab_transmittance(width, w, lambda) / exact, 1.02, 0.005);
}

// A British handbook table of 1977 (λ about 1.4, four exposed edges), quoted by a passive-solar handbook: an older and
// independent method, within 11 %.
TEST(Iso13370, HandbookTable) {
    const struct {
        double length, width, transmittance;
    } table[] = {{7.5, 7.5, 0.76}, {15, 15, 0.45}, {30, 30, 0.26}, {60, 60, 0.15}};
    for (const auto& line : table) {
        const double b = characteristic_dimension(line.length * line.width, 2 * (line.length + line.width));
        const double d = equivalent_thickness(0.3, 1.4, 0.17, 0, 0.04);
        EXPECT_NEAR(slab_transmittance(b, d, 1.4) / line.transmittance, 1, 0.11) << line.length;
    }
}

// Annex B (from memory): 50 mm of 0.034 beside a 10 × 8 m slab on sand, R_f = 0; arithmetic by hand.
TEST(Iso13370, EdgeInsulation) {
    const double b = characteristic_dimension(80, 36), d = 0.72, bare = slab_transmittance(b, d, 2.0);
    const struct {
        double width;
        bool vertical;
        double psi, transmittance;
    } table[] = {{0.5, false, -0.253, 0.708}, {1.0, false, -0.399, 0.642}, {0.5, true, -0.399, 0.642}, {1.0, true, -0.566, 0.567}};
    for (const auto& line : table) {
        const EdgeInsulation edge{0.05, 0.034, line.width, line.vertical};
        EXPECT_NEAR(additional_equivalent_thickness(edge, 2.0), 2.891, 0.001);
        const double psi = edge_psi(edge, d, 2.0);
        EXPECT_NEAR(psi, line.psi, 0.001);
        EXPECT_NEAR(slab_transmittance_with_edge(bare, psi, b), line.transmittance, 0.001);
    }
    EXPECT_EQ(edge_psi({0.05, 0.034, 1.0, false}, d, 2.0), edge_psi({0.05, 0.034, 0.5, true}, d, 2.0));
    EXPECT_THROW(edge_psi({0.05, 2.0, 1.0, false}, d, 2.0), OutsideStandard);
}

// Soil categories of ISO 13370 (from memory), δ by hand.
TEST(Iso13370, PeriodicDepth) {
    EXPECT_NEAR(periodic_depth(1.5, 3.0e6), 2.24, 0.01);
    EXPECT_NEAR(periodic_depth(2.0, 2.0e6), 3.17, 0.01);
    EXPECT_NEAR(periodic_depth(3.5, 2.0e6), 4.19, 0.01);
}

// Formula from memory; arithmetic by hand for B = 4.444 m, clay, no ground insulation, walls of the void 1.5 W/(m²·K).
TEST(Iso13370, SuspendedFloor) {
    SuspendedFloor floor{.floor_transmittance = 0.4, .characteristic_dimension_m = 40.0 / 9, .wall_thickness_m = 0.3,
                         .height_m = 0.3, .wall_transmittance = 1.5, .openings_m2_per_m = 0.0015, .wind_m_per_s = 4,
                         .wind_shield = 0.05};
    // d_g 0.615, U_g 0.65147, U_x 0.2025 + 0.097875
    EXPECT_NEAR(suspended_floor_transmittance(floor, 1.5), 1 / (1 / 0.4 + 1 / (0.65147 + 0.300375)), 1e-4);
    // Nothing but the ground below: in series with it; a wide-open void: the floor alone.
    floor.height_m = 0, floor.openings_m2_per_m = 0;
    EXPECT_NEAR(suspended_floor_transmittance(floor, 1.5), 1 / (2.5 + 1 / 0.65147), 1e-4);
    floor.openings_m2_per_m = 1e6;
    EXPECT_NEAR(suspended_floor_transmittance(floor, 1.5), 0.4, 1e-6);
}

TEST(Iso13370, HeatTransfer) { EXPECT_DOUBLE_EQ(ground_heat_transfer(80, 0.25, 36, 0.1), 23.6); }

TEST(Iso13370, ImpossibleInputIsRefused) {
    EXPECT_THROW(characteristic_dimension(0, 10), OutsideStandard);
    EXPECT_THROW(characteristic_dimension(10, 0), OutsideStandard);
    EXPECT_THROW(equivalent_thickness(0.3, -1, 0.17, 0, 0.04), OutsideStandard);
    EXPECT_THROW(slab_transmittance(4, 0, 1.5), OutsideStandard);
    EXPECT_THROW(slab_transmittance_with_edge(0.2, -0.6, 4), OutsideStandard);
    EXPECT_THROW(periodic_depth(1.5, std::nan("")), OutsideStandard);
}

// Year: formulas of ISO 13370:2017 from memory, numbers worked apart: λ 2.0, ρc 2e6 (δ 3.166), d_f 1.
TEST(Iso13370, HeatFlowThroughTheYear) {
    const double depth = periodic_depth(2.0, 2e6);
    EXPECT_NEAR(depth, 3.166, 0.001);
    EXPECT_NEAR(periodic_inside_slab(10, 2.0, 1, depth), 6.601, 0.001);
    EXPECT_NEAR(periodic_outside_slab(10, 2.0, 1, depth), 10.560, 0.001);
    EXPECT_NEAR(periodic_lead(1, depth), 1.050, 0.001);
    EXPECT_NEAR(periodic_lag(1, depth), 1.307, 0.001);
    const EdgeInsulation edge{.thickness_m = 0.05, .conductivity = 0.034, .width_m = 1, .vertical = false};
    // d′ 2.891; e^(−1/3.166) = 0.7291: 7.4·(0.2709·ln(3.166/3.891 + 1) + 0.7291·ln(4.166))
    EXPECT_NEAR(periodic_outside_edge(10, 2.0, 1, edge, depth), 8.894, 0.001);
    EdgeInsulation upright = edge;
    upright.width_m = 0.5, upright.vertical = true;
    EXPECT_NEAR(periodic_outside_edge(10, 2.0, 1, upright, depth), periodic_outside_edge(10, 2.0, 1, edge, depth), 1e-12);
}

// A heated basement: formulas of ISO 13370:2017 from memory, arithmetic apart: B 5, z 2, d_f 1, d_w,b 0.8, λ 2.0.
TEST(Iso13370, Basement) {
    const Basement basement{.characteristic_dimension_m = 5, .depth_m = 2, .floor_equivalent_thickness_m = 1, .wall_equivalent_thickness_m = 0.8};
    EXPECT_NEAR(basement_floor_transmittance(basement, 2.0), 4 / (15.708 + 2) * std::log(15.708 / 2 + 1), 1e-4);
    EXPECT_NEAR(basement_wall_transmittance(basement, 2.0), 4 / 6.28319 * (1 + 0.5 * 0.8 / 2.8) * std::log(3.5), 1e-4);
    EXPECT_NEAR(basement_effective_transmittance(80, 36, 2, 0.5, 0.9), (40 + 64.8) / 152, 1e-12);
    // A basement of no depth is a slab.
    Basement flat = basement;
    flat.depth_m = 1e-9;
    EXPECT_NEAR(basement_floor_transmittance(flat, 2.0), slab_transmittance(5, 1, 2.0), 1e-6);
    EXPECT_NEAR(periodic_outside_basement(36, flat, 2.0, 3.166), periodic_outside_slab(36, 2.0, 1, 3.166), 1e-6);
    Basement deep = basement;
    deep.floor_equivalent_thickness_m = 6;  // d_f + z/2 beyond B: the other formula
    EXPECT_NEAR(basement_floor_transmittance(deep, 2.0), 2.0 / (0.457 * 5 + 7), 1e-12);
    Basement none = basement;
    none.depth_m = 0;
    EXPECT_THROW(basement_wall_transmittance(none, 2.0), OutsideStandard);
}

}  // namespace
}  // namespace wallfoot::iso13370
