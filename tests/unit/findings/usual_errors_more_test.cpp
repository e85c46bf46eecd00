// SPDX-License-Identifier: GPL-3.0-or-later
// Errors of drawing, reading and building site on small sections; sizes by hand where an equation gives them.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <tuple>

#include "solver/findings/usual_errors.hpp"
#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

FindingsOptions coarsely() {
    FindingsOptions options;
    options.tolerance = 2e-3;
    return options;
}

UsualErrors tried(const Study& study) { return usual_errors(study, study.variants.front(), coarsely()); }

const UsualError* error_of(const UsualErrors& found, const std::string& id) {
    for (const UsualError& error : found.errors)
        if (error.effect.id == id) return &error;
    return nullptr;
}

/// A screed of 75 mm on 100 mm of insulation and a slab, a filled cavity wall; `strip` between screed and wall.
drafts::Draft screeded_foot(bool strip) {
    drafts::Draft d;
    d.cut = "[-2000, -3000, 3000, 1200]";
    d.material("clay", 1.5, "soil").material("concrete", 2.0, "concrete").material("board", 0.03, "insulation").material("screed", 1.2, "mortar");
    d.material("block", 0.5, "masonry").material("batts", 0.032, "insulation").material("brick", 0.8, "masonry").material("fill", 1.4, "concrete");
    d.piece("clay", -2000, -3000, 3000, -325).piece("clay", 300, -325, 3000, -150);
    d.piece("concrete", -2000, -325, 0, -175).piece("board", -2000, -175, 0, -75).piece("screed", -2000, -75, 0, 0);
    if (strip) d.piece("board", -25, -75, 0, 0);
    d.piece("block", 0, -600, 100, 1200).piece("batts", 100, -300, 200, 1200).piece("fill", 100, -600, 200, -300).piece("brick", 200, -600, 300, 1200);
    d.space("in", "inside", -1000, 600, 20).space("out", "outside", 1500, 600, 0);
    d.more = R"(, "membranes": [{"id": "dpm", "kind": "dpm", "path": [[-2000, -175], [0, -175]]}],
        "elements": [{"id": "top", "cut": "top", "corrections": {"fixings": [{"layer": "BATTS", "conductivity": 50, "area": 12.5, "per_m2": 2.5}]}}])";
    // The piece that the fixings go through, by its id.
    const auto id = d.pieces.find("\"batts-");
    const std::string batts = d.pieces.substr(id + 1, d.pieces.find('"', id + 1) - id - 1);
    d.more.replace(d.more.find("BATTS"), 5, batts);
    return d;
}

// Wall as in the corrections of ISO 6946 annex F (from memory), with brick 0.8; each size is U·l or the like.
TEST(UsualErrorsByHand, OfPassingOnAreArithmetic) {
    const auto found = tried(screeded_foot(true).study());
    const Findings& drawn = *found.drawn;
    ASSERT_FALSE(drawn.has_fault());
    const double total = 0.13 + 0.1 / 0.5 + 0.1 / 0.032 + 0.1 / 0.8 + 0.04, U = 1 / total, length = 1.2;
    const double more = 0.8 * 50 * 12.5e-6 * 2.5 / 0.1 * std::pow(0.1 / 0.032 / total, 2);
    const UsualError *corrections = error_of(found, "corrections-in-psi"), *other = error_of(found, "other-U"), *per = error_of(found, "per-length"), *membrane = error_of(found, "membrane-resistance");
    ASSERT_TRUE(corrections && other && per && membrane);
    ASSERT_GT(more, 0.03 * U) << "counted";
    EXPECT_NEAR(corrections->effect.psi->value, -length * more, 1e-9);
    EXPECT_NEAR(other->effect.psi->value, length * 0.01, 1e-12);
    const UsualError *wall = error_of(found, "wall-from-ground"), *floor = error_of(found, "floor-to-outer-face");
    ASSERT_TRUE(wall && floor);
    EXPECT_NEAR(wall->effect.psi->value, -0.150 * U, 1e-9);
    EXPECT_NEAR(floor->effect.psi->value, -0.300 * drawn.headline_psi()->taken_off.at(1).floor_alone->value / 2.0, 1e-9);
    EXPECT_NEAR(floor->effect.psi->lower, -0.300 * drawn.headline_psi()->taken_off.at(1).floor_alone->upper / 2.0, 1e-9) << "as far as L2D of the floor alone is open";
    EXPECT_NEAR(per->effect.psi->value, 3 * drawn.headline_psi()->value->value, 1e-12);
    // ISO 13370 for B 8 m: R_f and d_f of the drawing, then 0.03 m²·K/W more.
    const double d_f = 0.3 + 1.5 * (0.17 + 0.15 / 2.0 + 0.1 / 0.03 + 0.075 / 1.2 + 0.04);
    const auto floor_U = [](double d) { return 2 * 1.5 / (std::numbers::pi * 8 + d) * std::log(std::numbers::pi * 8 / d + 1); };
    EXPECT_NEAR(membrane->effect.psi->value, (floor_U(d_f) - floor_U(d_f + 1.5 * 0.03)) * 2.0, 1e-9);
    for (const UsualError* error : {corrections, other, per, membrane}) {
        EXPECT_FALSE(error->present);
        EXPECT_EQ((error->effect.name + error->effect.about).find('{'), std::string::npos) << error->effect.name;
    }
}

// Without the strip more heat is lost, and the floor's edge is warmer: both signs. One step draws it.
TEST(UsualErrorsOfTheSite, AStripThatIsForgottenIsDrawnInOneStep) {
    const Study without = screeded_foot(false).study(), with = screeded_foot(true).study();
    const auto found = tried(without);
    const UsualError* missing = error_of(found, "no-strip");
    ASSERT_NE(missing, nullptr);
    EXPECT_TRUE(missing->present);
    ASSERT_TRUE(missing->effect.psi && missing->mended);
    EXPECT_GT(missing->effect.psi->lower, 0);
    EXPECT_TRUE(missing->effect.mixed()) << "psi worse, yet the coldest surface warmer";
    Study mended = without;
    mended.variants.front().section = std::make_shared<const Section>(*missing->mended);
    const auto drawn = find(with, with.variants.front(), coarsely()), repaired = find(mended, mended.variants.front(), coarsely());
    EXPECT_NEAR(repaired->headline_psi()->value->value, drawn->headline_psi()->value->value, 2e-3) << "the same as with a strip drawn by hand";
    const auto again = tried(with);
    EXPECT_EQ(error_of(again, "no-strip"), nullptr);
    const UsualError* forgotten = error_of(again, "strip-forgotten");
    ASSERT_NE(forgotten, nullptr);
    EXPECT_FALSE(forgotten->present);
    EXPECT_NEAR(forgotten->effect.psi->value, missing->effect.psi->value, 4e-3);
    // Mortar on the foot of the filled cavity: psi worse, the surface no warmer.
    const UsualError* mortar = error_of(again, "mortar-droppings");
    ASSERT_NE(mortar, nullptr);
    EXPECT_TRUE(mortar->effect.psi.has_value());
    const UsualError* heated = error_of(again, "heated-screed");
    ASSERT_NE(heated, nullptr);
    EXPECT_FALSE(heated->effect.psi) << "psi belongs to the room";
    EXPECT_NE(heated->effect.about.find(" W/m"), std::string::npos) << heated->effect.about;
    EXPECT_EQ(heated->effect.about.find("–"), std::string::npos) << heated->effect.about;
}

TEST(UsualErrorsOfUnits, AThousandfoldIsFoundAtItsPlace) {
    const auto wall_of = [](double block, double brick) {
        drafts::Draft d;
        d.cut = "[-500, 0, 800, 1000]";
        d.material("block", block, "masonry").material("batts", 0.032, "insulation").material("brick", brick, "masonry");
        d.piece("block", 0, 0, 100, 1000).piece("batts", 100, 0, 200, 1000).piece("brick", 200, 0, 300, 1000);
        d.space("in", "inside", -250, 500, 20).space("out", "outside", 600, 500, 0);
        return tried(d.study());
    };
    const auto slipped = wall_of(500, 0.8);
    const UsualError* slip = error_of(slipped, "lambda-thousandfold");
    ASSERT_NE(slip, nullptr);
    EXPECT_TRUE(slip->present);
    EXPECT_TRUE(slip->at && slip->at->x > 0 && slip->at->x < 100'000);
    EXPECT_NE(slip->effect.about.find("0.5"), std::string::npos) << slip->effect.about;
    ASSERT_TRUE(slip->effect.factor);
    EXPECT_LT(*slip->effect.factor, 0) << "a leaf without resistance reads colder";
    EXPECT_NE(error_of(wall_of(0.5, 30), "lambda-unusual"), nullptr);
    const auto usual = wall_of(0.5, 0.8);
    for (const char* id : {"lambda-thousandfold", "lambda-unusual", "drawing-small", "length-unusual"}) EXPECT_EQ(error_of(usual, id), nullptr) << id;
}

// Only what is out of the usual range is scaled, and a mixture has no slip of its own.
TEST(UsualErrorsOfUnits, OnlyTheSlippedValueIsScaled) {
    drafts::Draft d;
    d.cut = "[-500, 0, 800, 1000]";
    d.material("batts", 0.032, "insulation").material("brick", 0.8, "masonry");
    d.item(d.materials, R"({"id": "block", "name": "block", "kind": "masonry", "lambda": {"dry": 0.5}, "lambda_up": {"dry": 500}})");
    d.piece("block", 0, 0, 100, 1000).piece("batts", 100, 0, 200, 1000).piece("brick", 200, 0, 300, 1000);
    d.space("in", "inside", -250, 500, 20).space("out", "outside", 600, 500, 0);
    const auto found = tried(d.study());
    const UsualError* slip = error_of(found, "lambda-thousandfold");
    ASSERT_NE(slip, nullptr);
    // Heat goes level here: with 0.5 across all the same, and 0.5 in place of 500 upwards, nothing moves.
    ASSERT_TRUE(slip->effect.factor);
    EXPECT_LE(std::abs(*slip->effect.factor), slip->effect.factor_open + 1e-6);
    drafts::Draft mixed;
    mixed.cut = d.cut, mixed.spaces = d.spaces;
    mixed.material("steel", 500, "masonry").material("iron", 400, "masonry");
    mixed.item(mixed.materials, R"({"id": "both", "name": "both", "kind": "masonry", "lambda": {}, "mix": [{"material": "steel", "fraction": 0.5}, {"material": "iron", "fraction": 0.5}]})");
    mixed.piece("both", 0, 0, 300, 1000);
    const auto of_mixture = tried(mixed.study());
    EXPECT_EQ(error_of(of_mixture, "lambda-thousandfold"), nullptr);
    EXPECT_NE(error_of(of_mixture, "lambda-unusual"), nullptr);
}

// Taking the reference back leaves what else is stated of the element.
TEST(UsualErrorsDrawn, AnOwnLengthIsMendedWithoutItsFixings) {
    Study study = screeded_foot(true).study();
    auto section = *study.variants.front().section;
    ASSERT_EQ(section.elements.size(), 1u);
    section.elements.front().internal = Point{0, -75'000};
    study.variants.front().section = std::make_shared<const Section>(section);
    const auto found = tried(study);
    const UsualError* own = error_of(found, "own-length");
    ASSERT_TRUE(own && own->mended);
    ASSERT_EQ(own->mended->elements.size(), 1u);
    EXPECT_FALSE(own->mended->elements.front().internal);
    EXPECT_EQ(own->mended->elements.front().corrections, section.elements.front().corrections);
}

// Mortar falls between leaves: not where one side is render, nor onto insulation that goes on.
TEST(UsualErrorsOfTheSite, MortarFallsBetweenLeavesOnly) {
    for (const auto& [outer, foot, told] : {std::tuple(MaterialKind::masonry, MaterialKind::concrete, true), std::tuple(MaterialKind::render, MaterialKind::concrete, false), std::tuple(MaterialKind::masonry, MaterialKind::insulation, false)}) {
        Study study = screeded_foot(true).study();
        for (Material& material : study.materials) {
            if (material.id == "brick") material.kind = outer;
            if (material.id == "fill") material.kind = foot;
        }
        EXPECT_EQ(error_of(tried(study), "mortar-droppings") != nullptr, told) << static_cast<int>(outer) << " on " << static_cast<int>(foot);
    }
}

TEST(UsualErrorsOfUnits, ADrawingInMetresIsSmall) {
    drafts::Draft d;
    d.cut = "[0, 0, 1, 1]";
    d.material("wall", 0.4, "masonry").piece("wall", 0.3, 0, 0.6, 1).space("in", "inside", 0.1, 0.5, 20).space("out", "outside", 0.8, 0.5, 0);
    EXPECT_NE(error_of(tried(d.study()), "drawing-small"), nullptr);
    drafts::Draft large;
    large.cut = "[0, 0, 20000, 12000]";
    large.material("wall", 0.4, "masonry").piece("wall", 2000, 0, 12000, 12000).space("in", "inside", 100, 500, 20).space("out", "outside", 15000, 500, 0);
    EXPECT_NE(error_of(tried(large.study()), "length-unusual"), nullptr);
}

/// A room over a void, beside outside.
drafts::Draft over_void(const char* kind) {
    drafts::Draft d;
    d.cut = "[-3000, -1500, 2000, 1200]";
    d.material("deck", 0.2).material("block", 0.3);
    d.piece("deck", -3000, -200, 0, 0).piece("block", 0, -1500, 300, 1200);
    d.space("in", "inside", -1500, 600, 20).space("void", kind, -1500, -700, 8).space("out", "outside", 1500, 600, 0);
    return d;
}

// The void's air at outside temperature, its floor taken off as one to outside: psi to outside then holds the edge of the floor too.
TEST(UsualErrorsOfSpaces, AnUnheatedSpaceIsNotOutside) {
    const auto found = tried(over_void("unheated").study());
    const UsualError* as_outside = error_of(found, "unheated-as-outside");
    ASSERT_NE(as_outside, nullptr);
    EXPECT_FALSE(as_outside->present);
    ASSERT_TRUE(as_outside->effect.psi && as_outside->effect.factor);
    EXPECT_NE(as_outside->effect.psi->value, 0);
    EXPECT_LT(*as_outside->effect.factor, 0) << "colder below: the coldest surface reads colder";
    EXPECT_EQ(error_of(found, "outside-warmer"), nullptr);
    // Drawn as a second outside space at 8 °C it stands in the drawing, and one step mends it.
    const auto drawn = tried(over_void("outside").study());
    const UsualError* warmer = error_of(drawn, "outside-warmer");
    ASSERT_NE(warmer, nullptr);
    EXPECT_TRUE(warmer->present);
    ASSERT_TRUE(warmer->mended);
    EXPECT_EQ(warmer->mended->spaces.at(1).kind, SpaceKind::unheated);
    EXPECT_EQ(warmer->mended->spaces.at(1).temperature, 8);
}

}  // namespace
}  // namespace wallfoot
