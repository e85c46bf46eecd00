// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <numbers>

#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

// Plane wall: ISO 6946 by hand, R_T = 0.13 + 0.2 + 3.125 + 0.12987 + 0.04 = 3.62487, U = 0.27587; f = 1 − U·R_si is exact.
TEST(PlaneWall, HasNoPsi) {
    const auto f = plane_wall().solved();
    ASSERT_FALSE(f->has_fault());
    ASSERT_EQ(f->elements.size(), 1u) << "the same straight surface reaches both sides: counted once";
    EXPECT_EQ(f->elements[0].id, "top");
    EXPECT_NEAR(f->elements[0].U.value(), 0.27587, 1e-5);
    EXPECT_EQ(f->elements[0].internal_length, 1'000'000);
    EXPECT_EQ(f->elements[0].external_length, 1'000'000);
    EXPECT_EQ(f->elements[0].layers.size(), 3u);
    for (const auto lengths : {LengthSystem::internal, LengthSystem::external}) {
        const auto& psi = psi_of(*f, lengths);
        ASSERT_TRUE(psi.value) << psi.reason;
        EXPECT_NEAR(psi.value->value, 0, 1e-8);
        EXPECT_LE(psi.value->lower, 1e-12);
        EXPECT_GE(psi.value->upper, -1e-12);
    }
    EXPECT_NEAR(surface_of(*f, Purpose::heat_flow).fRsi.value(), 0.96414, 1e-5);
    EXPECT_TRUE(f->converged);
    ASSERT_NE(f->headline_psi(), nullptr);
    EXPECT_EQ(f->headline_psi()->lengths, LengthSystem::internal);
}

// The surface check has its own resistance: R_T = 3.62487 + 0.12, f = 1 − 0.25/R_T (ISO 13788, R_si 0.25; arithmetic).
TEST(PlaneWall, ChecksTheSurfaceWithItsOwnResistance) {
    const auto f = plane_wall().solved();
    const double R = 0.13 + 0.2 + 3.125 + 0.1 / 0.77 + 0.04 + 0.12;
    EXPECT_NEAR(surface_of(*f, Purpose::surface_check).fRsi.value(), 1 - 0.25 / R, 1e-9);
    ASSERT_NE(f->headline_surface(), nullptr);
    EXPECT_EQ(f->headline_surface()->purpose, Purpose::surface_check);
}

// RULES 5: neither a skirting nor a pilaster makes a wall shorter.
TEST(PlaneWall, PilasterDoesNotDivideIt) {
    auto d = plane_wall();
    d.piece("leaf", -120, 400, 0, 600);
    const auto f = d.solved();
    ASSERT_EQ(f->elements.size(), 1u);
    EXPECT_EQ(f->elements[0].internal_length, 1'000'000);
    EXPECT_TRUE(psi_of(*f, LengthSystem::internal).value);
}

TEST(PlaneWall, OffsetSurfacesNeedAReference) {
    auto d = plane_wall();
    d.piece("leaf", -60, 0, 0, 400);
    auto f = d.solved();
    ASSERT_EQ(f->elements.size(), 2u);
    EXPECT_FALSE(psi_of(*f, LengthSystem::internal).value);
    EXPECT_EQ(psi_of(*f, LengthSystem::internal).reason, "element-no-reference");
    EXPECT_TRUE(says(*f, "element-no-reference"));
    d.more = R"(, "elements": [{"id": "upper", "cut": "top", "reference": {"internal": [0, 400]}},
                               {"id": "lower", "cut": "bottom", "reference": {"internal": [-60, 400]}}])";
    f = d.solved();
    const auto& psi = psi_of(*f, LengthSystem::internal);
    ASSERT_TRUE(psi.value) << psi.reason;
    EXPECT_EQ(psi.taken_off.at(0).element, "upper");
    EXPECT_NEAR(psi.taken_off.at(0).length_m.value(), 0.6, 1e-12);
    EXPECT_NEAR(psi.taken_off.at(1).length_m.value(), 0.4, 1e-12);
}

TEST(PlaneWall, SlantedLayersGiveNoTransmittance) {
    auto d = plane_wall();
    d.outline("wedge", R"("material": "brick", "moisture": "dry")", {{100, 0}, {160, 0}, {100, 1000}});
    const auto f = d.solved();
    EXPECT_FALSE(psi_of(*f, LengthSystem::internal).value);
    EXPECT_EQ(psi_of(*f, LengthSystem::internal).reason, "element-not-square");
    EXPECT_TRUE(says(*f, "element-not-square"));
}

Draft corner(double lambda, const std::string& resistance) {
    Draft d;
    d.cut = "[-1500, -1500, 800, 800]";
    d.material("stuff", lambda);
    d.outline("corner", R"("material": "stuff", "moisture": "dry")", {{0, -1500}, {300, -1500}, {300, 300}, {-1500, 300}, {-1500, 0}, {0, 0}});
    d.space("in", "inside", -700, -700, 1, resistance).space("out", "outside", 600, 600, 0, resistance);
    return d;
}

// Square corner of one material with films, λ 0.5, d 0.3 m, legs 1.5 m: computed by an independent finite-volume code,
// L2D 4.0701, psi_i 0.1740; psi_e = psi_i − 2·d·U is arithmetic. R_si 0.13 everywhere, as the code had it.
TEST(Corner, WithFilms) {
    auto d = corner(0.5, "");
    d.spaces.clear();
    d.space("in", "inside", -700, -700, 1, R"(, "surface_resistance": 0.13)").space("out", "outside", 600, 600, 0);
    const auto films = d.solved();
    ASSERT_EQ(films->elements.size(), 2u);
    EXPECT_NEAR(films->couplings.at(0).value->value, 4.070, 0.004);
    const double psi_i = psi_of(*films, LengthSystem::internal).value->value;
    EXPECT_NEAR(psi_i, 0.174, 0.002);
    const double U = films->elements[0].U.value();
    EXPECT_NEAR(U, 1.29870, 1e-5);
    EXPECT_NEAR(psi_of(*films, LengthSystem::external).value->value, psi_i - 2 * 0.3 * U, 1e-12);
}

// Isothermal square corner: psi_i = λ·(1 − 2 ln2/π) = 0.55873 λ, exact (conformal mapping); independent of d.
TEST(Corner, Isothermal) {
    const double exact = 0.7 * (1 - 2 * std::numbers::ln2 / std::numbers::pi);
    const auto f = corner(0.7, R"(, "surface_resistance": 0)").solved();
    const auto& psi = psi_of(*f, LengthSystem::internal);
    ASSERT_TRUE(psi.value) << psi.reason;
    EXPECT_NEAR(psi.value->value, exact, 0.005 * exact);
    EXPECT_LE(psi.value->lower, exact + 1e-4) << "legs of 5 d leave less than that";
    EXPECT_GE(psi.value->upper, exact - 1e-4);
    EXPECT_NEAR(psi_of(*f, LengthSystem::external).value->value, psi.value->value - 2 * 0.7, 1e-9);
}

// Every layer of the derivation re-done by hand gives U.
TEST(Derivation, CanBeRedone) {
    const auto f = plane_wall().solved();
    double R = 0, U = 0;
    for (const auto& d : f->derivations) {
        if (d.of != "U top") continue;
        for (const auto& input : d.inputs) {
            EXPECT_FALSE(input.source.empty()) << input.name;
            if (input.name.starts_with("R_s") || input.name.starts_with("R = d/λ")) R += input.value;
            if (input.name == "U") U = input.value;
        }
    }
    EXPECT_NEAR(U, 1 / R, 1e-12);
}

TEST(Points, AreReadOffAndRefusedInAir) {
    FindingsOptions options;
    options.at = {{100'000, 500'000}};
    // Between leaf and batts: θ = 20·(1 − U·(0.13 + 0.2)), arithmetic.
    const auto f = plane_wall().solved(options);
    ASSERT_EQ(f->points.size(), 1u);
    EXPECT_NEAR(f->points[0].temperature, 20 * (1 - 0.27587 * 0.33), 1e-3);
    options.at = {{-300'000, 500'000}};
    const auto air = plane_wall().solved(options);
    EXPECT_TRUE(air->has_fault());
    EXPECT_TRUE(says(*air, "point-not-in-solid"));
    EXPECT_EQ(air->solution, nullptr);
}

TEST(Touching, FixedTemperaturesHaveNoCoupling) {
    Draft d;
    d.cut = "[-500, -500, 800, 800]";
    d.material("stuff", 1);
    d.piece("stuff", 0, 0, 300, 300);
    d.space("in", "inside", -250, 500, 20, R"(, "surface_resistance": 0)");
    d.space("out", "outside", 600, -250, 0, R"(, "surface_resistance": 0)");
    // The air is parted by cutouts that touch the block in two corners.
    d.outline("part1", R"("cutout": true)", {{0, 0}, {-500, 0}, {-500, -500}, {0, -500}});
    d.outline("part2", R"("cutout": true)", {{300, 300}, {800, 300}, {800, 800}, {300, 800}});
    const auto f = d.solved();
    ASSERT_FALSE(f->has_fault()) << english(f->messages.at(0));
    EXPECT_FALSE(f->couplings.at(0).value);
    EXPECT_EQ(f->couplings.at(0).reason, "no-coupling-touching");
    EXPECT_TRUE(says(*f, "no-coupling-touching"));
    ASSERT_FALSE(f->surface.empty());
}
