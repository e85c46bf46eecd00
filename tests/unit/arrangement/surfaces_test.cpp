// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/surfaces.hpp"

#include <gtest/gtest.h>

#include <set>

#include "tests/unit/arrangement/hand_made.hpp"

namespace wallfoot {
namespace {

using namespace test;

// The surface resistances are those of ISO 6946 (from memory); that the order of the temperatures at both ends of a
// vertical line decides up or down is the program's own rule for sloping and level surfaces.

/// Wall foot over a ventilated void: I inside, O outside, V void, F suspended floor, W wall, G soil, C ceiling.
struct Foot {
    HandMade drawing{.rows = {"CCWO",  //
                              "IIWO",  //
                              "FFWO",  //
                              "VVWO",  //
                              "GGWG"},
                     .columns_mm = {-2000, -1000, 0, 300, 1500},
                     .heights_mm = {-1500, -800, -300, 0, 2400, 2600},
                     .faces = {{'C', solid(0)},
                               {'F', solid(1)},
                               {'W', solid(2)},
                               {'G', solid(3)},
                               {'I', air(0)},
                               {'O', air(1)},
                               {'V', air(2)}}};
    Study study = study_with({material("block", MaterialKind::masonry, {{Condition::dry, 0.2}}),
                              material("earth", MaterialKind::soil, {{Condition::dry, 1.5}}, true)});
    Section section;
    Foot() {
        section.pieces = {piece("ceiling", "block"), piece("floor", "block"), piece("wall", "block"),
                          piece("soil", "earth")};
        section.spaces = {space("in", SpaceKind::inside, 20), space("out", SpaceKind::outside, 0),
                          space("void", SpaceKind::unheated, 8)};
    }
    /// The one surface (all its edges agree) between a face and a space.
    SurfaceEdge surface(char face, int space, Purpose purpose = Purpose::heat_flow) const {
        std::optional<SurfaceEdge> found;
        for (const SurfaceEdge& edge : surfaces(study, section, drawing.make(), purpose))
            if (edge.space == space && edge.solid_face == drawing.face(face)) {
                if (found) {
                    EXPECT_EQ(found->run, edge.run) << face;
                    EXPECT_EQ(found->direction, edge.direction) << face;
                    EXPECT_EQ(found->resistance, edge.resistance) << face;
                }
                found = edge;
            }
        EXPECT_TRUE(found.has_value()) << face;
        return found.value_or(SurfaceEdge{});
    }
    void expect(char face, int space, Direction direction, double resistance) const {
        const SurfaceEdge edge = surface(face, space);
        EXPECT_EQ(to_string(edge.direction), to_string(direction)) << face << " to space " << space;
        EXPECT_EQ(edge.resistance, resistance) << face << " to space " << space;
    }
};

TEST(Surfaces, WallFootOverAVoid) {
    const Foot foot;
    foot.expect('F', 0, Direction::down, 0.17);        // floor top
    foot.expect('F', 2, Direction::down, 0.17);        // its underside: heat comes from the room above
    foot.expect('G', 2, Direction::down, 0.17);        // soil of the void: ends in soil, the outside is colder
    foot.expect('W', 0, Direction::horizontal, 0.13);  // wall
    foot.expect('W', 2, Direction::horizontal, 0.13);  // wall in the void
    foot.expect('W', 1, Direction::horizontal, 0.04);  // outside
    foot.expect('C', 0, Direction::up, 0.10);          // soffit: the line ends at the frame, the outside is colder
    EXPECT_EQ(foot.surface('G', 1).resistance, 0.04);
}

// A line that meets soil ends there, even where a warm cellar lies below the soil.
TEST(Surfaces, SoilEndsTheLine) {
    Foot foot;
    foot.drawing.rows.push_back("BBWG");
    foot.drawing.heights_mm.insert(foot.drawing.heights_mm.begin(), -3000);
    foot.drawing.faces['B'] = air(3);
    foot.section.spaces.push_back(space("cellar", SpaceKind::inside, 20));
    foot.expect('G', 2, Direction::down, 0.17);
    foot.expect('G', 3, Direction::up, 0.10);
}

TEST(Surfaces, OnlyTheOrderOfTemperaturesCounts) {
    Foot foot;
    foot.section.spaces[0].temperature = 1.0;
    foot.section.spaces[1].temperature = 0.8;
    foot.section.spaces[2].temperature = 0.9;
    foot.expect('F', 0, Direction::down, 0.17);
    foot.expect('G', 2, Direction::down, 0.17);
    foot.expect('C', 0, Direction::up, 0.10);
    foot.section.spaces[2].temperature = 1.0;
    foot.expect('F', 0, Direction::horizontal, 0.13);  // equal
    foot.section.spaces[2].temperature = 1.5;          // a void warmer than the room
    foot.expect('F', 0, Direction::up, 0.10);
    foot.expect('F', 2, Direction::up, 0.10);
    foot.section.spaces[2].temperature = 0.5;  // a void colder than the outside
    foot.expect('G', 2, Direction::up, 0.10);
}

TEST(Surfaces, ConventionsTemperaturesServe) {
    Foot foot;
    foot.section.spaces[0].temperature.reset();
    foot.section.spaces[1].temperature.reset();
    foot.expect('F', 0, Direction::down, 0.17);
    foot.section.spaces[2].temperature.reset();
    foot.section.spaces[2].balance = "{}";
    foot.expect('F', 2, Direction::down, 0.17);  // not found yet: between the others, and only the order counts
    foot.section.spaces[2].balance.reset();
    EXPECT_THROW(surfaces(foot.study, foot.section, foot.drawing.make(), Purpose::heat_flow), InputFault);
}

TEST(Surfaces, SurfaceCheckTakesItsOwnRule) {
    Foot foot;
    EXPECT_EQ(foot.surface('F', 0, Purpose::surface_check).resistance, 0.25);
    EXPECT_EQ(foot.surface('F', 0, Purpose::surface_check).direction, Direction::down);
    EXPECT_EQ(foot.surface('W', 1, Purpose::surface_check).resistance, 0.04);
    foot.study.conventions["iso"].surface_check.reset();
    EXPECT_EQ(foot.surface('F', 0, Purpose::surface_check).resistance, 0.17);
}

TEST(Surfaces, ASpacesOwnResistanceWins) {
    Foot foot;
    foot.section.spaces[0].surface_resistance = SurfaceResistances{0.01, 0.02, 0.03};
    foot.section.spaces[1].surface_resistance = SurfaceResistances{0, 0, 0};
    foot.expect('F', 0, Direction::down, 0.03);
    foot.expect('W', 0, Direction::horizontal, 0.02);
    foot.expect('C', 0, Direction::up, 0.01);
    foot.expect('W', 1, Direction::horizontal, 0);
    EXPECT_EQ(foot.surface('F', 0, Purpose::surface_check).resistance, 0.03);
}

TEST(Surfaces, OtherSpacesMustStateTheirResistance) {
    Foot foot;
    foot.section.spaces[2].kind = SpaceKind::other;
    try {
        surfaces(foot.study, foot.section, foot.drawing.make(), Purpose::heat_flow);
        FAIL();
    } catch (const InputFault& fault) {
        EXPECT_EQ(fault.faults().front().code, "space-without-resistance");
    }
    foot.section.spaces[2].surface_resistance = SurfaceResistances{0.3, 0.3, 0.3};
    EXPECT_EQ(foot.surface('F', 2).resistance, 0.3);
}

TEST(Surfaces, ALineThatEndsInACutoutGoesToTheColdestOutside) {
    Foot foot;
    foot.drawing.faces['V'] = cutout(0);
    foot.expect('F', 0, Direction::down, 0.17);
    // Two outside spaces: the colder one counts.
    foot.section.spaces[1].temperature = 30;
    foot.expect('F', 0, Direction::up, 0.10);
    foot.section.spaces[2] = space("north", SpaceKind::outside, -5);
    foot.expect('F', 0, Direction::down, 0.17);
    // No outside at all: there is no order.
    foot.section.spaces[1].kind = foot.section.spaces[2].kind = SpaceKind::unheated;
    foot.expect('F', 0, Direction::horizontal, 0.13);
}

/// A slab of solid S between a room below-left and the outside, turned by a whole-number rotation.
std::string slab_direction(double cosine, double sine) {
    HandMade slab{.rows = {"OO", "SS", "II"},
                  .columns_mm = {0, 500, 1000},
                  .heights_mm = {0, 500, 600, 1000},
                  .faces = {{'O', air(1)}, {'S', solid(0)}, {'I', air(0)}}};
    slab.move = [=](double x, double y) { return std::array{cosine * x - sine * y, sine * x + cosine * y}; };
    Section section;
    section.pieces = {piece("roof", "wood")};
    section.spaces = {space("in", SpaceKind::inside, 20), space("out", SpaceKind::outside, 0)};
    const Study study = study_with({material("wood", MaterialKind::timber, {{Condition::dry, 0.13}})});
    std::set<std::string> directions;
    std::set<int> runs;
    for (const SurfaceEdge& edge : surfaces(study, section, slab.make(), Purpose::heat_flow)) {
        directions.insert(to_string(edge.direction));
        runs.insert(edge.run);
        EXPECT_EQ(edge.resistance, edge.space == 1                     ? 0.04
                                   : edge.direction == Direction::up   ? 0.10
                                   : edge.direction == Direction::down ? 0.17
                                                                       : 0.13);
    }
    EXPECT_EQ(runs.size(), 2u);
    EXPECT_EQ(directions.size(), 1u);
    return *directions.begin();
}

// ISO 6946: horizontal within 30° of the horizontal direction of flow, that is of a vertical surface (from memory).
TEST(Surfaces, SlopedSlabs) {
    EXPECT_EQ(slab_direction(1, 0), "up");
    EXPECT_EQ(slab_direction(0.8, 0.6), "up");  // 36.9°
    EXPECT_EQ(slab_direction(1, 1), "up");      // 45°, enlarged
    EXPECT_EQ(slab_direction(1, -1), "up");
    EXPECT_EQ(slab_direction(50, 86.5), "up");          // 59.97°
    EXPECT_EQ(slab_direction(50, 86.7), "horizontal");  // 60.03°
    EXPECT_EQ(slab_direction(0, 1), "horizontal");
    EXPECT_EQ(slab_direction(-0.8, 0.6), "down");  // room above
    EXPECT_EQ(slab_direction(-1, 0), "down");
}

// A straight surface divided by noding stays one run though noding bends it by a grid step; a real bend ends it.
TEST(Surfaces, RunsFollowAStraightLine) {
    HandMade slab{.rows = {"OOOO", "SSSS", "IIII"},
                  .columns_mm = {0, 100, 200, 300, 400},
                  .heights_mm = {0, 100, 200, 300},
                  .faces = {{'O', air(1)}, {'S', solid(0)}, {'I', air(0)}}};
    Section section;
    section.pieces = {piece("slab", "wood")};
    section.spaces = {space("in", SpaceKind::inside, 20), space("out", SpaceKind::outside, 0)};
    const Study study = study_with({material("wood", MaterialKind::timber, {{Condition::dry, 0.13}})});
    const auto runs = [&] {
        std::map<int, int> count;
        for (const SurfaceEdge& edge : surfaces(study, section, slab.make(), Purpose::heat_flow))
            if (edge.space == 1) ++count[edge.run];
        return count.size();
    };
    EXPECT_EQ(runs(), 1u);
    slab.move = [](double x, double y) { return std::array{x, y + (x == 200 ? 0.001 : 0)}; };
    EXPECT_EQ(runs(), 1u);
    slab.move = [](double x, double y) { return std::array{x, y + (x == 200 ? 0.01 : 0)}; };
    EXPECT_GT(runs(), 1u);
    // Each bend within a grid step, but the curve leaves its chord: 2 µm more at each step.
    slab.columns_mm = {0};
    slab.rows = {"", "", ""};
    for (int i = 1; i <= 100; ++i) {
        slab.columns_mm.push_back(i);
        for (std::size_t row = 0; row < 3; ++row) slab.rows[row] += "OSI"[row];
    }
    slab.move = [](double x, double y) { return std::array{x, y + 0.001 * x * x}; };
    EXPECT_GT(runs(), 10u);
    slab.move = [](double x, double y) { return std::array{x, y + 0.333 * x}; };
    EXPECT_EQ(runs(), 1u);
}

// A level top and a level underside of the same room's ledge: both ends of the line lie in the room.
TEST(Surfaces, ALedgeInOneRoomIsHorizontal) {
    HandMade ledge{.rows = {"IIW", "LLW", "IIW"},
                   .columns_mm = {0, 100, 300, 400},
                   .heights_mm = {0, 500, 540, 1000},
                   .faces = {{'I', air(0)}, {'L', solid(0)}, {'W', solid(0)}}};
    Section section;
    section.pieces = {piece("ledge", "wood")};
    section.spaces = {space("in", SpaceKind::inside, 20), space("out", SpaceKind::outside, 0)};
    const Study study = study_with({material("wood", MaterialKind::timber, {{Condition::dry, 0.13}})});
    const auto all = surfaces(study, section, ledge.make(), Purpose::heat_flow);
    EXPECT_EQ(all.size(), 6u);
    for (const SurfaceEdge& edge : all) EXPECT_EQ(edge.direction, Direction::horizontal);
}

}  // namespace
}  // namespace wallfoot
