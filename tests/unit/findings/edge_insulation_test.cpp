// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/edge_insulation.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/file/quantities.hpp"
#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

// 10 × 8 m detached, sand 2.0, wall 0.3 m, no insulation: d_f 0.72, U 0.821; 50 mm of 0.034 along the edge: d′ 2.891 (ISO 13370 annex B
// from memory, arithmetic by hand).
TEST(FloorEdge, ChangesUAsByHand) {
    const FloorByStandard floor{.B = 80 / 18.0, .wall_thickness = 0.3, .soil = 2.0, .equivalent_thickness = 0.72, .U = 0.821};
    const struct {
        double width;
        bool vertical;
        double psi, U;
    } table[] = {{0.5, false, -0.253, 0.708}, {1.0, false, -0.399, 0.642}, {0.5, true, -0.399, 0.642}, {1.0, true, -0.566, 0.567}};
    for (const auto& line : table) {
        const EdgeEffect effect = edge_effect(floor, {0.05, 0.034, line.width, line.vertical});
        EXPECT_NEAR(effect.added_thickness, 2.891, 0.001);
        EXPECT_NEAR(effect.psi, line.psi, 0.001);
        EXPECT_NEAR(effect.U, line.U, 0.001);
    }
}

/// A slab at 0 with 100 mm of 0.03 below it, ground outside at −100; `edge`: a rectangle of insulation 0.034, in mm.
drafts::Draft slab_with(const std::vector<double>& edge) {
    drafts::Draft d;
    d.cut = "[-4000, -5000, 5000, 1200]";
    d.material("clay", 1.5, "soil").material("concrete", 2.0).material("board", 0.03, "insulation").material("block", 0.2).material("strip", 0.034, "insulation");
    d.piece("clay", -4000, -5000, 5000, -300).piece("clay", 300, -300, 5000, -100);
    d.piece("concrete", -4000, -200, 0, 0).piece("board", -4000, -300, 0, -200).piece("block", 0, -600, 300, 1200);
    if (!edge.empty()) d.piece("strip", edge[0], edge[1], edge[2], edge[3]);
    d.space("in", "inside", -2000, 600, 20).space("out", "outside", 2000, 600, 0);
    return d;
}

const Derivation* told_of(const Findings& findings) {
    for (const Derivation& derivation : findings.derivations)
        if (derivation.id == "iso13370-edge") return &derivation;
    return nullptr;
}

double told(const Derivation& derivation, const std::string& name) {
    for (const auto& input : derivation.inputs)
        if (input.name == name) return input.value;
    ADD_FAILURE() << "no " << name;
    return 0;
}

FindingsOptions lightly() {
    FindingsOptions options;
    options.tolerance = 1e-2;
    return options;
}

// By hand: R_f 0.2/2 + 0.1/0.03, d_f 5.7650, d′ 2.1559; B 8, U 0.16301.
TEST(FloorEdge, IsReadOffTheDrawing) {
    const struct {
        std::vector<double> box;
        const char* width;
        double D, psi;
    } table[] = {{{300, -700, 350, -100}, "D, depth below ground", 0.6, -0.022932}, {{-1000, -350, 0, -300}, "D, width under the floor", 1.0, -0.019607}};
    for (const auto& line : table) {
        const auto found = slab_with(line.box).solved(lightly());
        ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
        const Derivation* edge = told_of(*found);
        ASSERT_NE(edge, nullptr) << line.width;
        EXPECT_NEAR(told(*edge, line.width), line.D, 1e-9);
        EXPECT_NEAR(told(*edge, "d_f"), 5.765, 1e-4);
        EXPECT_NEAR(told(*edge, "d′"), 2.15588, 1e-4);
        EXPECT_NEAR(told(*edge, "ψ_ge"), line.psi, 1e-5);
        EXPECT_NEAR(told(*edge, "U, with the strip"), 0.163010 + 2 * line.psi / 8, 1e-5);
        // What U has less, psi has more: 0.5·B of floor with U and psi is the same heat.
        const double with_U = told(*edge, "psi with U = psi with U_floor − (U − U_floor)·l_floor"), with_floor = told(*edge, "psi with U_floor");
        EXPECT_NEAR(with_U + 4 * told(*edge, "U, with the strip"), with_floor + 4 * told(*edge, "U_floor, without the strip"), 1e-9);
        EXPECT_TRUE(drafts::says(*found, "floor-edge-drawn"));
    }
    // Below the whole floor it is a layer, and what ends above the ground is the wall's.
    for (const std::vector<double>& box : {std::vector<double>{}, {-4000, -350, 0, -300}, {300, -100, 350, 1200}}) EXPECT_EQ(told_of(*slab_with(box).solved(lightly())), nullptr);
}

TEST(FloorEdge, MayBeStated) {
    std::string text = slab_with({}).json();
    text.insert(text.find("\"convention\""), R"("building": {"floor": {"edge_insulation": {"direction": "vertical", "width": 600, "thickness": 50, "lambda": 0.034}}}, )");
    const Study study = read_study(text).study;
    const auto found = find(study, study.variants.front(), lightly());
    const Derivation* edge = told_of(*found);
    ASSERT_NE(edge, nullptr);
    EXPECT_NEAR(told(*edge, "ψ_ge"), -0.022932, 1e-5);
    EXPECT_TRUE(drafts::says(*found, "floor-edge-stated"));
    Study other = study;
    other.building.clear();
    EXPECT_NE(input_hash(study, study.variants.front()), input_hash(other, other.variants.front()));
    // One that conducts as well as the soil saves nothing that the formula could tell.
    text.replace(text.find("0.034}}"), 5, "1.500");
    const Study soil = read_study(text).study;
    const auto refused = find(soil, soil.variants.front(), lightly());
    EXPECT_EQ(told_of(*refused), nullptr);
    EXPECT_TRUE(drafts::says(*refused, "floor-edge-outside"));
}

/// The slab with that strip drawn and this one stated, width and thickness in mm.
std::string drawn_and_stated(const std::vector<double>& drawn, const std::string& direction, int width, int thickness) {
    std::string text = slab_with(drawn).json();
    text.insert(text.find("\"convention\""), R"("building": {"floor": {"edge_insulation": {"direction": ")" + direction + R"(", "width": )" + std::to_string(width) + R"(, "thickness": )" + std::to_string(thickness) +
                                                 R"(, "lambda": 0.034}}}, )");
    return text;
}

TEST(FloorEdge, StatedIsTheDrawnOneOnlyWhereBothAreAlike) {
    const struct {
        std::vector<double> drawn;
        int width, thickness;
        bool alike;
    } table[] = {{{300, -700, 350, -100}, 620, 50, true}, {{300, -700, 350, -100}, 1200, 50, false}, {{300, -700, 350, -100}, 600, 100, false}, {{-600, -350, 0, -300}, 600, 50, false}};
    for (const auto& line : table) {
        const Study study = read_study(drawn_and_stated(line.drawn, "vertical", line.width, line.thickness)).study;
        const auto found = find(study, study.variants.front(), lightly());
        const Derivation* edge = told_of(*found);
        ASSERT_NE(edge, nullptr);
        const bool pair = std::any_of(edge->inputs.begin(), edge->inputs.end(), [](const auto& input) { return input.name == "psi with U_floor"; });
        EXPECT_EQ(pair, line.alike) << line.width << " " << line.thickness;
        EXPECT_EQ(drafts::says(*found, "floor-edge-other"), !line.alike);
        EXPECT_EQ(drafts::says(*found, "floor-edge-stated"), line.alike);
    }
}

TEST(FloorEdge, ALevelStripBeginsAtTheEdge) {
    EXPECT_EQ(told_of(*slab_with({-2500, -350, -2000, -300}).solved(lightly())), nullptr) << "2 m inside it insulates no edge";
    EXPECT_NE(told_of(*slab_with({-500, -350, -20, -300}).solved(lightly())), nullptr);
}

// One that conducts as well as the soil is drawn first: the valid one is found all the same.
TEST(FloorEdge, OneOutsideTheFormulaHidesNoOther) {
    drafts::Draft d = slab_with({});
    d.material("wet", 2.0, "insulation");
    d.piece("wet", -1000, -350, 0, -300).piece("strip", 300, -700, 350, -100);
    const auto found = d.solved(lightly());
    const Derivation* edge = told_of(*found);
    ASSERT_NE(edge, nullptr);
    EXPECT_NEAR(told(*edge, "D, depth below ground"), 0.6, 1e-9);
    EXPECT_FALSE(drafts::says(*found, "floor-edge-outside"));
}

// Once kept unread, an older file may hold anything there: it opens, and says that it is not used.
TEST(FloorEdge, ThatCannotBeUsedIsKept) {
    for (const std::string held : {R"("50 mm all round")", R"({"direction": "up", "width": 600, "thickness": 50, "lambda": 0.034})", R"({"direction": "vertical", "width": "wide"})"}) {
        std::string text = slab_with({}).json();
        text.insert(text.find("\"convention\""), R"("building": {"floor": {"edge_insulation": )" + held + "}}, ");
        const auto read = read_study(text);
        EXPECT_EQ(std::count_if(read.warnings.begin(), read.warnings.end(), [](const Message& m) { return m.code == "floor-edge-unused"; }), 1) << held;
        EXPECT_FALSE(stated_floor_edge(read.study)) << held;
        EXPECT_NE(write_study(read.study).find("edge_insulation"), std::string::npos) << held;
    }
}

TEST(GroundFloorSizes, ThatAreNoNumbersAreKept) {
    std::string text = slab_with({}).json();
    text.insert(text.find("\"convention\""), R"("building": {"area": "48 m2", "perimeter": -3}, )");
    const auto read = read_study(text);
    EXPECT_EQ(std::count_if(read.warnings.begin(), read.warnings.end(), [](const Message& m) { return m.code == "building-size-unused"; }), 2);
    EXPECT_FALSE(ground_floor(read.study));
    EXPECT_NE(write_study(read.study).find("48 m2"), std::string::npos);
}

}  // namespace
}  // namespace wallfoot
