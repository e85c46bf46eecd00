// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "core/arrangement/arrangement.hpp"
#include "core/arrangement/conductivities.hpp"
#include "core/arrangement/surfaces.hpp"
#include "tests/unit/arrangement/hand_made.hpp"

namespace wallfoot {
namespace {

using namespace test;

// Surfaces and conductivities of drawings resolved by arrange(); resistances of ISO 6946 (from memory).

Outline box(double left, double bottom, double right, double top) {
    return {{from_mm(left), from_mm(bottom)},
            {from_mm(right), from_mm(bottom)},
            {from_mm(right), from_mm(top)},
            {from_mm(left), from_mm(top)}};
}

Piece drawn(const std::string& id, const std::string& material, Outline outline) {
    Piece result = piece(id, material);
    result.outline = std::move(outline);
    return result;
}

Space marked(const std::string& id, SpaceKind kind, double temperature, double x, double y) {
    Space result = space(id, kind, temperature);
    result.at = {{from_mm(x), from_mm(y)}};
    return result;
}

Study materials() {
    return study_with({material("earth", MaterialKind::soil, {{Condition::dry, 1.5}}, true),
                       material("block", MaterialKind::masonry,
                                {{Condition::protected_, 0.16},
                                 {Condition::exposed, 0.17},
                                 {Condition::below_dpc, 0.20},
                                 {Condition::below_ground, 0.24}}),
                       material("deck", MaterialKind::concrete, {{Condition::protected_, 1.2}})});
}

/// Wall foot with a suspended floor over a ventilated void.
Section wall_foot() {
    Section section;
    section.cut = {from_mm(-1500), from_mm(-1500), from_mm(1500), from_mm(1500)};
    section.ground.both = from_mm(-150);
    section.dpc.both = 0;
    section.pieces = {drawn("soil", "earth", box(-1500, -1500, 0, -800)),
                      drawn("garden", "earth", box(300, -1500, 1500, -150)),
                      drawn("wall", "block", box(0, -1500, 300, 1500)), drawn("floor", "deck", box(-1500, -200, 0, 0))};
    section.spaces = {marked("in", SpaceKind::inside, 20, -700, 700), marked("out", SpaceKind::outside, 0, 700, 700),
                      marked("void", SpaceKind::unheated, 8, -700, -500)};
    return section;
}

using Found = std::map<std::pair<std::string, std::string>, std::set<std::pair<std::string, double>>>;
/// Directions and resistances by piece and space.
Found found(const Study& study, const Section& section, const Arrangement& arrangement) {
    Found result;
    for (const SurfaceEdge& edge : surfaces(study, section, arrangement, Purpose::heat_flow)) {
        const Face& solid = arrangement.faces.at(static_cast<std::size_t>(edge.solid_face));
        result[{section.pieces.at(static_cast<std::size_t>(solid.piece)).id,
                section.spaces.at(static_cast<std::size_t>(edge.space)).id}]
            .insert({to_string(edge.direction), edge.resistance});
    }
    return result;
}

TEST(RealSections, WallFootOverAVoid) {
    const Study study = materials();
    const Section section = wall_foot();
    const Arrangement arrangement = arrange(study, section);
    ASSERT_TRUE(arrangement.sound());
    const Found expected = {{{"floor", "in"}, {{"down", 0.17}}},       {{"floor", "void"}, {{"down", 0.17}}},
                            {{"garden", "out"}, {{"horizontal", 0.04}}},       {{"soil", "void"}, {{"down", 0.17}}},
                            {{"wall", "in"}, {{"horizontal", 0.13}}},  {{"wall", "out"}, {{"horizontal", 0.04}}},
                            {{"wall", "void"}, {{"horizontal", 0.13}}}};
    EXPECT_EQ(found(study, section, arrangement), expected);
}

TEST(RealSections, ConditionsOfTheWallFoot) {
    const Study study = materials();
    Section section = wall_foot();
    const Arrangement arrangement = arrange(study, section);
    ASSERT_TRUE(arrangement.sound());
    std::vector<Message> messages;
    const auto all = conductivities(study, section, arrangement, messages);
    const auto at = [&](double x, double y) {
        return all.at(static_cast<std::size_t>(face_at(arrangement, {from_mm(x), from_mm(y)})));
    };
    EXPECT_EQ(to_string(at(150, 700).used), "exposed");
    EXPECT_EQ(to_string(at(150, -75).used), "below-dpc");
    EXPECT_EQ(to_string(at(150, -700).used), "below-ground");
    EXPECT_EQ(at(150, -700).across, 0.24);
    EXPECT_EQ(at(-700, -1200).across, 1.5);
    EXPECT_FALSE(at(-700, -1200).undeclared);
    EXPECT_EQ(at(-700, -75).across, 1.2);
    EXPECT_TRUE(at(-700, -75).undeclared);
    EXPECT_EQ(at(700, 700).across, 0);
    EXPECT_TRUE(
        std::none_of(messages.begin(), messages.end(), [](const Message& m) { return m.severity == Severity::fault; }));
}

/// A roof at 45° over a room, ends on the cut.
TEST(RealSections, SlantedRoof) {
    const Study study = materials();
    Section section;
    section.cut = {0, 0, from_mm(2000), from_mm(2000)};
    section.pieces = {drawn("roof", "deck",
                            {{from_mm(-500), from_mm(-100)},
                             {from_mm(2500), from_mm(2900)},
                             {from_mm(2500), from_mm(3100)},
                             {from_mm(-500), from_mm(100)}})};
    section.spaces = {marked("in", SpaceKind::inside, 20, 1500, 500), marked("out", SpaceKind::outside, 0, 500, 1500)};
    const Arrangement arrangement = arrange(study, section);
    ASSERT_TRUE(arrangement.sound());
    const Found expected = {{{"roof", "in"}, {{"up", 0.10}}}, {{"roof", "out"}, {{"up", 0.04}}}};
    EXPECT_EQ(found(study, section, arrangement), expected);
}

}  // namespace
}  // namespace wallfoot
