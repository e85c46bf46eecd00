// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/conductivities.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/arrangement/airspace.hpp"
#include "tests/unit/arrangement/hand_made.hpp"

namespace wallfoot {
namespace {

using namespace test;

// The places and the choice of a declared value are the program's own rules (common practice, no source); the airspace
// values are those of ISO 6946 table 8 (from memory).

/// Cavity-like foot: inner leaf A (above), B (below the DPC at 0), D (below ground at −150); outer leaf E, F, H
/// likewise.
struct Leaves {
    HandMade drawing{.rows = {"IAKEO",  //
                              "IBKFO",  //
                              "IDKHO"},
                     .columns_mm = {-1000, 0, 100, 200, 300, 1300},
                     .heights_mm = {-600, -150, 0, 1500},
                     .faces = {{'A', solid(0)},
                               {'B', solid(0)},
                               {'D', solid(0)},
                               {'E', solid(1)},
                               {'F', solid(1)},
                               {'H', solid(1)},
                               {'K', solid(2)},
                               {'I', air(0)},
                               {'O', air(1)}}};
    Study study;
    Section section;
    std::vector<Message> messages;

    explicit Leaves(Material block)
        : study(study_with(
              {std::move(block), material("fill", MaterialKind::insulation, {{Condition::dry, 0.034}}, true)})) {
        section.pieces = {piece("inner", study.materials[0].id), piece("outer", study.materials[0].id),
                          piece("cavity", "fill")};
        section.spaces = {space("in", SpaceKind::inside, 20), space("out", SpaceKind::outside, 0)};
        section.ground.both = -150'000;
        section.dpc.both = 0;
    }
    FaceConductivity of(char face) {
        messages.clear();
        return conductivities(study, section, drawing.make(), messages)
            .at(static_cast<std::size_t>(drawing.face(face)));
    }
    int said(const std::string& code, const std::string& of_piece = "") const {
        return static_cast<int>(std::count_if(messages.begin(), messages.end(), [&](const Message& m) {
            return m.code == code && (of_piece.empty() || m.args.at("piece") == of_piece);
        }));
    }
};

Material full_block() {
    return material("block", MaterialKind::masonry,
                    {{Condition::dry, 0.15},
                     {Condition::protected_, 0.16},
                     {Condition::exposed, 0.17},
                     {Condition::below_dpc, 0.20},
                     {Condition::below_ground, 0.24},
                     {Condition::saturated, 0.5}});
}

TEST(Conductivities, PlaceDecidesTheCondition) {
    Leaves leaves(full_block());
    const struct {
        char face;
        Condition condition;
        double value;
    } table[] = {{'A', Condition::protected_, 0.16},   {'B', Condition::below_dpc, 0.20},
                 {'D', Condition::below_ground, 0.24}, {'E', Condition::exposed, 0.17},
                 {'F', Condition::below_dpc, 0.20},    {'H', Condition::below_ground, 0.24}};
    for (const auto& line : table) {
        const FaceConductivity found = leaves.of(line.face);
        EXPECT_EQ(to_string(found.asked), to_string(line.condition)) << line.face;
        EXPECT_EQ(to_string(found.used), to_string(line.condition)) << line.face;
        EXPECT_EQ(found.across, line.value) << line.face;
        EXPECT_EQ(found.up, line.value);
        EXPECT_EQ(found.low, line.value);
        EXPECT_EQ(found.high, line.value);
        EXPECT_FALSE(found.undeclared);
    }
    EXPECT_EQ(leaves.of('O').across, 0);
    EXPECT_EQ(leaves.said("undeclared-condition", "inner"), 0);
    EXPECT_EQ(leaves.said("dry-masonry-in-service"), 0);
}

TEST(Conductivities, NoLevelsMeansAbove) {
    Leaves leaves(full_block());
    leaves.section.ground = leaves.section.dpc = {};
    EXPECT_EQ(leaves.of('D').asked, Condition::protected_);
    EXPECT_EQ(leaves.of('H').asked, Condition::exposed);
}

TEST(Conductivities, AGivenConditionWins) {
    Leaves leaves(full_block());
    leaves.section.pieces[0].moisture = Condition::saturated;
    EXPECT_EQ(leaves.of('A').across, 0.5);
    EXPECT_EQ(leaves.of('D').across, 0.5);
    EXPECT_EQ(leaves.of('F').across, 0.20);
}

TEST(Conductivities, UndeclaredTakesTheNextDrierAndSaysSo) {
    Leaves leaves(
        material("block", MaterialKind::masonry, {{Condition::protected_, 0.16}, {Condition::below_dpc, 0.20}}));
    FaceConductivity found = leaves.of('D');
    EXPECT_EQ(found.across, 0.20);
    EXPECT_EQ(found.asked, Condition::below_ground);
    EXPECT_EQ(found.used, Condition::below_dpc);
    EXPECT_TRUE(found.undeclared);
    EXPECT_EQ(leaves.said("undeclared-condition", "inner"), 1);
    EXPECT_EQ(leaves.said("undeclared-condition", "outer"), 2);  // exposed and below-ground
    for (const Message& message : leaves.messages) {
        if (message.code != "undeclared-condition") continue;
        EXPECT_NE(message.severity, Severity::fault);
        EXPECT_TRUE(message.at.has_value());
        if (message.args.at("asked") != "below-ground" || message.args.at("piece") != "inner") continue;
        EXPECT_EQ(message.severity, Severity::caution);
        EXPECT_EQ(message.args.at("used"), "below-dpc");
        EXPECT_EQ(message.args.at("material"), "block");
    }
    // Nothing drier declared: the driest there is.
    leaves.section.pieces[0].moisture = Condition::dry;
    found = leaves.of('A');
    EXPECT_EQ(found.across, 0.16);
    EXPECT_EQ(found.used, Condition::protected_);
    EXPECT_TRUE(found.undeclared);
}

TEST(Conductivities, DryMasonryIsCautioned) {
    Leaves leaves(material("block", MaterialKind::masonry, {{Condition::dry, 0.15}}, true));
    EXPECT_EQ(leaves.of('A').across, 0.15);
    EXPECT_EQ(leaves.said("dry-masonry-in-service", "inner"), 1);
    EXPECT_EQ(leaves.said("dry-masonry-in-service", "outer"), 1);
    EXPECT_EQ(leaves.said("dry-masonry-in-service", "cavity"), 0);  // insulation
    leaves.study.materials[0] = full_block();
    leaves.section.pieces[0].moisture = Condition::dry;
    leaves.of('A');
    EXPECT_EQ(leaves.said("dry-masonry-in-service", "inner"), 1);
    EXPECT_EQ(leaves.said("undeclared-condition", "inner"), 0);
}

TEST(Conductivities, BareNumbersOfMetalAndSoilHoldForAll) {
    for (MaterialKind kind : {MaterialKind::metal, MaterialKind::soil, MaterialKind::airspace}) {
        Leaves leaves(material("stuff", kind, {{Condition::dry, 1.5}}, true));
        const FaceConductivity found = leaves.of('D');
        EXPECT_EQ(found.across, 1.5);
        EXPECT_EQ(found.used, Condition::below_ground);
        EXPECT_FALSE(found.undeclared);
        EXPECT_EQ(leaves.said("undeclared-condition", "inner"), 0);
    }
    Leaves leaves(material("stuff", MaterialKind::soil, {{Condition::dry, 1.5}}, false));  // one object for dry
    EXPECT_TRUE(leaves.of('D').undeclared);
}

TEST(Conductivities, SecondAxisAndRange) {
    Material block = full_block();
    block.lambda_up.by_condition[Condition::protected_].value = 0.12;
    block.lambda_up.by_condition[Condition::below_ground].value = 0.19;
    block.lambda.by_condition[Condition::protected_].low = 0.14;
    block.lambda.by_condition[Condition::protected_].high = 0.18;
    Leaves leaves(block);
    FaceConductivity found = leaves.of('A');
    EXPECT_EQ(found.across, 0.16);
    EXPECT_EQ(found.up, 0.12);
    EXPECT_EQ(found.low, 0.14);
    EXPECT_EQ(found.high, 0.18);
    EXPECT_FALSE(found.undeclared);
    EXPECT_EQ(leaves.of('D').up, 0.19);
    found = leaves.of('B');  // across is declared, along is not
    EXPECT_EQ(found.across, 0.20);
    EXPECT_EQ(found.up, 0.12);
    EXPECT_TRUE(found.undeclared);
    EXPECT_EQ(leaves.said("undeclared-condition", "inner"), 1);
}

TEST(Conductivities, WhatCannotBeUsedIsAFault) {
    Material none = material("none", MaterialKind::concrete, {});
    Leaves leaves(none);
    EXPECT_EQ(leaves.of('A').across, 0);
    EXPECT_EQ(leaves.said("no-conductivity", "inner"), 1);
    EXPECT_EQ(leaves.messages.front().severity, Severity::fault);
    none.mix = {{"gone", 1.0, {}}};
    Leaves mixed(none);
    EXPECT_EQ(mixed.of('A').across, 0);
    EXPECT_EQ(mixed.said("mix-not-computed", "outer"), 1);
    mixed.study.materials.clear();
    mixed.of('A');
    EXPECT_EQ(mixed.said("unknown-material", "outer"), 1);
}

TEST(Conductivities, LevelsOfTheTwoSides) {
    Leaves leaves(full_block());
    leaves.section.ground = {};
    leaves.section.ground.right = -150'000;  // divides at the middle of the cut, x = 150 mm
    leaves.section.ground.left = -600'000;
    EXPECT_EQ(leaves.of('D').asked, Condition::below_dpc);
    EXPECT_EQ(leaves.of('H').asked, Condition::below_ground);
}

/// Airspace K between two layers of wood, wide or high.
struct Cavity {
    HandMade drawing;
    Study study =
        study_with({material("wood", MaterialKind::timber,
                             {{Condition::dry, 0.13}, {Condition::protected_, 0.13}, {Condition::exposed, 0.13}}),
                    material("air", MaterialKind::airspace, {})});
    Section section;
    std::vector<Message> messages;
    Cavity(double thickness, double length) {
        drawing = {.rows = {"O", "T", "K", "U", "I"},
                   .columns_mm = {0, length},
                   .heights_mm = {0, 100, 200, 200 + thickness, 300 + thickness, 400 + thickness},
                   .faces = {{'O', air(1)}, {'T', solid(0)}, {'K', solid(1)}, {'U', solid(0)}, {'I', air(0)}}};
        section.pieces = {piece("wood", "wood"), piece("gap", "air")};
        section.spaces = {space("in", SpaceKind::inside, 20), space("out", SpaceKind::outside, 0)};
    }
    void turn(double cosine, double sine) {
        drawing.move = [=](double x, double y) { return std::array{cosine * x - sine * y, sine * x + cosine * y}; };
    }
    double resistance(double thickness) {
        messages.clear();
        const auto all = conductivities(study, section, drawing.make(), messages);
        const FaceConductivity& found = all.at(static_cast<std::size_t>(drawing.face('K')));
        EXPECT_EQ(found.across, found.up);
        EXPECT_FALSE(found.undeclared);
        return thickness / 1000 / found.across;
    }
};

TEST(Conductivities, AirspacesFollowTheTable) {
    Cavity cavity(50, 1000);  // level, room below: upwards
    EXPECT_NEAR(cavity.resistance(50), 0.16, 1e-9);
    EXPECT_TRUE(cavity.messages.empty());
    cavity.turn(-1, 0);  // room above
    EXPECT_NEAR(cavity.resistance(50), 0.21, 1e-9);
    cavity.turn(0, 1);  // upright
    EXPECT_NEAR(cavity.resistance(50), 0.18, 1e-9);
    cavity.turn(0.8, 0.6);  // 37° roof
    EXPECT_NEAR(cavity.resistance(50), 0.16, 1e-9);
    cavity.turn(0.6, 0.8);  // 53°: d lies 37° from the horizontal
    EXPECT_NEAR(cavity.resistance(50), 0.16, 1e-9);
    cavity.turn(0.28, 0.96);  // 74°: within 30°
    EXPECT_NEAR(cavity.resistance(50), 0.18, 1e-9);
    cavity.turn(1, 0);
    cavity.section.spaces[1].temperature = 20;  // no order
    EXPECT_NEAR(cavity.resistance(50), 0.18, 1e-9);
    Cavity thin(20, 1000);
    thin.turn(0, 1);
    EXPECT_NEAR(thin.resistance(20), 0.175, 1e-9);
}

TEST(Conductivities, AirspaceShapesAreCautioned) {
    Cavity stout(50, 499);
    stout.resistance(50);
    ASSERT_EQ(stout.messages.size(), 1u);
    EXPECT_EQ(stout.messages[0].code, "airspace-shape");
    EXPECT_EQ(stout.messages[0].severity, Severity::caution);
    EXPECT_EQ(stout.messages[0].args.at("piece"), "gap");
    EXPECT_TRUE(stout.messages[0].at.has_value());
    Cavity thick(400, 5000);
    EXPECT_NEAR(thick.resistance(400), 0.16, 1e-9);
    ASSERT_EQ(thick.messages.size(), 1u);
    EXPECT_EQ(thick.messages[0].code, "airspace-thick");
    // An L: 50 thick arms of 1000 fill little of their rectangle.
    Cavity corner(50, 1000);
    corner.drawing = {.rows = {"TKUO", "TKUO", "TKKK", "TUUU", "IIII"},
                      .columns_mm = {0, 100, 150, 250, 1150},
                      .heights_mm = {0, 100, 200, 250, 700, 1200},
                      .faces = {{'O', air(1)}, {'T', solid(0)}, {'K', solid(1)}, {'U', solid(0)}, {'I', air(0)}}};
    corner.resistance(50);
    ASSERT_FALSE(corner.messages.empty());
    EXPECT_EQ(corner.messages[0].code, "airspace-shape");
}

// A level that divides the piece does not change what the airspace is.
TEST(Conductivities, ADividedAirspaceIsOne) {
    Cavity cavity(50, 1000);
    cavity.drawing = {
        .rows = {"IUKTO", "IULTO"},
        .columns_mm = {0, 100, 200, 250, 350, 1000},
        .heights_mm = {-30, 0, 1500},
        .faces = {{'O', air(1)}, {'T', solid(0)}, {'K', solid(1)}, {'L', solid(1)}, {'U', solid(0)}, {'I', air(0)}}};
    cavity.section.dpc.both = 0;
    EXPECT_NEAR(cavity.resistance(50), 0.18, 1e-9);
    std::vector<Message> messages;
    const auto all = conductivities(cavity.study, cavity.section, cavity.drawing.make(), messages);
    EXPECT_EQ(all.at(static_cast<std::size_t>(cavity.drawing.face('L'))).across,
              all.at(static_cast<std::size_t>(cavity.drawing.face('K'))).across);
    EXPECT_TRUE(
        std::none_of(messages.begin(), messages.end(), [](const Message& m) { return m.code == "airspace-shape"; }));
}

// By hand: a 3-4-5 rectangle 200 × 50 mm with its corner at the origin, and a triangle.
TEST(Airspace, EnclosingRectangle) {
    const EnclosingRectangle turned =
        enclosing_rectangle({{0, 0}, {160'000, 120'000}, {130'000, 160'000}, {-30'000, 40'000}, {65'000, 80'000}});
    EXPECT_NEAR(turned.shorter_m, 0.05, 1e-12);
    EXPECT_NEAR(turned.longer_m, 0.2, 1e-12);
    EXPECT_NEAR(std::abs(turned.short_x), 0.6, 1e-12);
    EXPECT_NEAR(std::abs(turned.short_y), 0.8, 1e-12);
    EXPECT_NEAR(turned.middle_x, 65'000, 1e-6);
    EXPECT_NEAR(turned.middle_y, 80'000, 1e-6);
    const EnclosingRectangle square = enclosing_rectangle({{0, 0}, {1000, 0}, {1000, 1000}, {0, 1000}});
    EXPECT_NEAR(std::abs(square.short_x), 1, 1e-12);
    EXPECT_THROW(enclosing_rectangle({{0, 0}, {1, 1}, {2, 2}}), std::logic_error);
}

}  // namespace
}  // namespace wallfoot
