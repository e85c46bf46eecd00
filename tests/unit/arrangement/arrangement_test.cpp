// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/arrangement.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/unit/arrangement/sections.hpp"

// Areas and places are worked out by hand from the coordinates.
namespace wallfoot::testing {
namespace {

using ::testing::Test;
using Codes = std::vector<std::string>;

/// Arranges and checks what must hold for every section.
Arrangement sound(const Section& s, const Study& from = study()) {
    Arrangement a = arrange(from, s);
    EXPECT_EQ(validate(a), Codes{});
    return a;
}

Section with_air(Section s) {
    s.spaces = {space("in", SpaceKind::inside, {mm(1, 1)})};
    return s;
}

TEST(Arrangement, LaterPiecesCoverEarlierOnes) {
    Section s = with_air(section(0, 0, 100, 100));
    s.pieces = {solid("low", box(10, 10, 60, 60)), solid("high", box(40, 40, 90, 90))};
    const auto a = sound(s);
    EXPECT_TRUE(a.sound());
    EXPECT_EQ(visible_mm2(a, 0), 50 * 50 - 20 * 20);
    EXPECT_EQ(visible_mm2(a, 1), 2500);
    EXPECT_EQ(visible_mm2(a, -1), 10000 - 5000 + 400);
    EXPECT_EQ(a.faces[face_at(a, mm(50, 50))].piece, 1);
    EXPECT_EQ(face_at(a, mm(150, 50)), -1);
}

TEST(Arrangement, HoleShowsWhatLiesBelow) {
    Section s = with_air(section(0, 0, 100, 100));
    s.pieces = {solid("low", box(10, 10, 50, 90)), solid("high", box(20, 20, 80, 80))};
    s.pieces[1].holes = {box(40, 40, 60, 60)};
    s.spaces[0].at.push_back(mm(55, 50));
    const auto a = sound(s);
    EXPECT_TRUE(a.sound());
    EXPECT_EQ(visible_mm2(a, 1), 3600 - 400);
    EXPECT_EQ(a.faces[face_at(a, mm(45, 50))].piece, 0);
    EXPECT_EQ(a.faces[face_at(a, mm(55, 50))].piece, -1);
}

TEST(Arrangement, TeeJunctionHasOneVertexForBoth) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("left", box(0, 0, 50, 100)), solid("low", box(50, 0, 100, 40)), solid("high", box(50, 40, 100, 100))};
    const auto a = sound(s);
    EXPECT_EQ(a.faces.size(), 3u);
    int at_tee = 0;
    for (const ArrangedEdge& e : a.edges) at_tee += a.vertices[e.from] == mm(50, 40) || a.vertices[e.to] == mm(50, 40);
    EXPECT_EQ(at_tee, 3);
}

TEST(Arrangement, SlantedEdgeSharedInPartLeavesNoGap) {
    // The edge of the second piece ends off the exact line of the first by less than the grid.
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("low", {mm(0, 0), mm(100, 0), mm(100, 33.333)}),
                solid("high", {mm(0, 0), mm(70, 23.333), mm(100, 33.333), mm(100, 100), mm(0, 100)})};
    const auto a = sound(s);
    EXPECT_EQ(codes(a), Codes{});
    EXPECT_EQ(a.faces.size(), 2u);
}

TEST(Arrangement, TurnedByThreeFourFiveStaysExact) {
    Section s = with_air(section(0, 0, 200, 200));
    const auto turned = [](double u, double v) { return mm(100 + 0.8 * u - 0.6 * v, 30 + 0.6 * u + 0.8 * v); };
    s.pieces = {solid("a", {turned(0, 0), turned(50, 0), turned(50, 100), turned(0, 100)}),
                solid("b", {turned(50, 25), turned(80, 25), turned(80, 75), turned(50, 75)})};
    const auto a = sound(s);
    EXPECT_TRUE(a.sound());
    EXPECT_EQ(visible_mm2(a, 0), 5000);
    EXPECT_EQ(visible_mm2(a, 1), 1500);
}

TEST(Arrangement, ThinLayersAreKept) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("a", box(0, 0, 50, 100)), solid("foil", box(50, 0, 50.3, 100)), solid("b", box(50.3, 0, 100, 100))};
    EXPECT_EQ(codes(sound(s)), Codes{});
    EXPECT_EQ(visible_mm2(sound(s), 1), 30);
    s.pieces[1].outline = box(50, 0, 50.05, 100);
    s.pieces[2].outline = box(50.05, 0, 100, 100);
    const auto a = sound(s);
    ASSERT_EQ(codes(a), Codes{"thin-face"});
    EXPECT_TRUE(a.sound());
    EXPECT_EQ(a.messages[0].args.at("thickness"), "0.050");
    EXPECT_EQ(a.faces[face_at(a, *a.messages[0].at)].piece, 1);
}

TEST(Arrangement, PiecesAreClippedAtTheCut) {
    Section s = with_air(section(0, 0, 100, 100));
    s.pieces = {solid("over", {mm(-50, 50), mm(50, -50), mm(150, 50), mm(50, 150)}), solid("beside", box(100, 0, 150, 100)),
                solid("all", box(-10, -10, 110, 110)), solid("shown", box(20, 20, 40, 40))};
    s.pieces.erase(s.pieces.begin() + 2);
    s.spaces.clear();
    auto a = sound(s);
    EXPECT_EQ(codes(a), Codes{});  // the square stood on its corner just covers the whole cut
    EXPECT_EQ(visible_mm2(a, 0), 10000 - 400);
    EXPECT_EQ(visible_mm2(a, 1), 0);
}

TEST(Arrangement, CutoutAndSpacePieceStopTheAir) {
    Section s = section(0, 0, 300, 100);
    s.pieces = {filled("window", Fill::cutout, box(100, 0, 120, 100)), filled("duct", Fill::space, box(200, 0, 210, 100), "out")};
    s.spaces = {space("in", SpaceKind::inside, {mm(50, 50), mm(150, 50)}), space("out", SpaceKind::outside, {mm(250, 50)})};
    const auto a = sound(s);
    EXPECT_EQ(codes(a), Codes{});
    EXPECT_EQ(a.faces[face_at(a, mm(110, 50))].kind, FaceKind::cutout);
    const Face& duct = a.faces[face_at(a, mm(205, 50))];
    EXPECT_EQ(duct.kind, FaceKind::air);
    EXPECT_EQ(duct.space, 1);
    EXPECT_EQ(a.faces[face_at(a, mm(150, 50))].space, 0);
}

struct FaultCase {
    const char* code;
    std::vector<Space> spaces;
};

TEST(Arrangement, EveryFaultOfTheAirHasItsPlace) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("wall", box(40, 0, 60, 100))};
    const Space in = space("in", SpaceKind::inside, {mm(20, 50)}), out = space("out", SpaceKind::outside, {mm(80, 50)});
    const auto other = [](std::vector<Point> at) { return space("x", SpaceKind::outside, std::move(at)); };
    const std::vector<FaultCase> cases{{"air-unclaimed", {in}},
                                       {"air-claimed-twice", {in, out, other({mm(90, 90)})}},
                                       {"mark-in-solid", {in, out, other({mm(50, 50)})}},
                                       {"mark-outside-cut", {in, out, other({mm(150, 50)})}},
                                       {"mark-on-edge", {in, out, other({mm(60, 50)})}},
                                       {"space-without-air", {in, out, other({})}}};
    for (const FaultCase& c : cases) {
        s.spaces = c.spaces;
        const auto a = sound(s);
        ASSERT_EQ(codes(a), Codes{c.code});
        EXPECT_FALSE(a.sound());
        EXPECT_TRUE(a.messages[0].at.has_value());
    }
    s.spaces = {in};
    const auto a = sound(s);
    EXPECT_GT(a.messages[0].at->x, from_mm(60));
}

TEST(Arrangement, UnusableCutIsAFaultNotAnException) {
    EXPECT_EQ(codes(arrange(study(), section(0, 0, 0, 100))), Codes{"cut-empty"});
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("far", box(0, 0, 600'000, 10))};
    EXPECT_EQ(codes(arrange(study(), s)), Codes{"coordinate-too-large"});
}

TEST(Arrangement, CarriesOnBeyondWithCorners) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("low", box(0, 0, 100, 30), "soil"), solid("left", box(0, 30, 20, 100)), solid("right", box(20, 30, 100, 100))};
    s.membranes = {{"m", MembraneKind::dpc, {mm(0, 30), mm(20, 30)}, {}, {}}};
    s.beyond[CutSide::left].distance = from_mm(1000);
    s.beyond[CutSide::bottom].distance = from_mm(500);
    const auto a = sound(s);
    EXPECT_EQ(codes(a), Codes{});
    EXPECT_EQ(a.frame, (Rect{from_mm(-1000), from_mm(-500), from_mm(100), from_mm(100)}));
    EXPECT_EQ(visible_mm2(a, 0), 1100 * 530);  // with the corner at the lower left
    EXPECT_EQ(visible_mm2(a, 1), 1020 * 70);
    double membrane = 0;
    for (const ArrangedEdge& e : a.edges)
        if (!e.membranes.empty()) membrane += to_mm(a.vertices[e.to].x - a.vertices[e.from].x);
    EXPECT_EQ(membrane, 1020);
}

TEST(Arrangement, CautionsForWhatIsCarriedOddly) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("a", {mm(0, 0), mm(100, 0), mm(100, 50), mm(0, 40)}), solid("b", {mm(0, 40), mm(100, 50), mm(100, 100), mm(0, 100)})};
    s.beyond[CutSide::right].distance = from_mm(100);
    s.beyond[CutSide::bottom].distance = from_mm(100);
    const auto a = sound(s);
    EXPECT_EQ(codes(a), (Codes{"carried-not-square", "carried-not-soil"}));
    EXPECT_EQ(a.messages[0].at, mm(100, 50));
    EXPECT_EQ(a.messages[0].args.at("side"), "right");
    EXPECT_TRUE(a.sound());
}

TEST(Arrangement, TooFarBeyondIsAFault) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("a", box(0, 0, 100, 100))};
    s.beyond[CutSide::right].distance = from_mm(600'000);
    EXPECT_EQ(codes(sound(s)), Codes{"beyond-too-far"});
}

TEST(Arrangement, AutomaticDistancesOfAWallFoot) {
    // By hand: internal face of the plaster at -15 mm, outer face at 300, ground at -150; b = 8 m.
    const auto a = sound(wall_foot());
    EXPECT_EQ(codes(a), Codes{});
    EXPECT_EQ(a.frame, (Rect{from_mm(-15 - 4000), from_mm(-150 - 20000), from_mm(300 + 20000), from_mm(1500)}));
    Study narrow = study();
    narrow.floor_width = from_mm(6000);
    const auto b = sound(wall_foot(), narrow);
    EXPECT_EQ(b.frame, (Rect{from_mm(-15 - 3000), from_mm(-150 - 15000), from_mm(300 + 15000), from_mm(1500)}));
}

TEST(Arrangement, MirroredWallFootHasTheSameAreas) {
    const Section s = wall_foot();
    Section m = s;
    m.cut = {-s.cut.right, s.cut.bottom, -s.cut.left, s.cut.top};
    for (Piece& piece : m.pieces)
        for (Point& p : piece.outline) p.x = -p.x;
    for (Space& sp : m.spaces)
        for (Point& p : sp.at) p.x = -p.x;
    const auto a = sound(s), b = sound(m);
    EXPECT_EQ(b.frame, (Rect{-a.frame.right, a.frame.bottom, -a.frame.left, a.frame.top}));
    for (int i = -1; i < static_cast<int>(s.pieces.size()); ++i) EXPECT_TRUE(visible2(a, i) == visible2(b, i)) << i;
    EXPECT_EQ(a.faces.size(), b.faces.size());
}

TEST(Arrangement, WithoutSoilTheElementDecides) {
    // A floor slab 400 mm thick meets a wall at x = 0: max(1 m, 3 × 400 mm) from the wall's face.
    Section s = section(-500, -500, 300, 500);
    s.pieces = {solid("slab", box(-500, -200, 0, 200)), solid("wall", box(0, -500, 300, 500))};
    s.spaces = {space("up", SpaceKind::inside, {mm(-250, 350)}), space("down", SpaceKind::inside, {mm(-250, -350)})};
    s.beyond[CutSide::left].automatic = true;
    EXPECT_EQ(sound(s).frame.left, from_mm(-1200));
    s.pieces[0].outline = box(-500, -100, 0, 100);
    EXPECT_EQ(sound(s).frame.left, from_mm(-1000));
    s.cut.left = from_mm(-3000);
    s.pieces[0].outline = box(-3000, -100, 0, 100);
    EXPECT_EQ(sound(s).frame.left, from_mm(-3000));  // never nearer than drawn
}

TEST(Arrangement, LevelsDivideAutomaticPiecesOnly) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("found", box(0, 0, 50, 100)), solid("given", box(50, 0, 100, 100))};
    s.pieces[0].moisture.reset();
    s.ground.both = from_mm(30);
    s.dpc.both = from_mm(60);
    s.beyond[CutSide::left].distance = from_mm(100);
    const auto a = sound(s);
    EXPECT_EQ(faces_of(a, 0), 3);
    EXPECT_EQ(faces_of(a, 1), 1);
    EXPECT_EQ(visible_mm2(a, 0), 150 * 100);
    EXPECT_NE(face_at(a, mm(-50, 20)), face_at(a, mm(-50, 40)));
}

TEST(Arrangement, LevelOfEachSideStepsInTheMiddle) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("found", box(0, 0, 100, 100))};
    s.pieces[0].moisture.reset();
    s.ground.left = from_mm(30);
    s.ground.right = from_mm(60);
    const auto a = sound(s);
    ASSERT_EQ(a.faces.size(), 2u);
    const int below = face_at(a, mm(10, 10));
    EXPECT_TRUE(a.faces[below].area2 == 2 * static_cast<Area2>(from_mm(50)) * from_mm(90));
    EXPECT_EQ(level_at(s.ground, s.cut, from_mm(10)), from_mm(30));
    EXPECT_EQ(level_at(s.ground, s.cut, from_mm(90)), from_mm(60));
    EXPECT_EQ(level_at({{}, from_mm(5), {}}, s.cut, from_mm(90)), from_mm(5));
    EXPECT_EQ(level_at({}, s.cut, 0), std::nullopt);
}

TEST(Arrangement, MembraneWithinOnePieceIsKeptAndDividesNothing) {
    Section s = section(0, 0, 100, 100);
    s.pieces = {solid("a", box(0, 0, 100, 100))};
    s.membranes = {{"m", MembraneKind::dpm, {mm(-20, 50), mm(60, 50)}, {}, {}}};
    const auto a = sound(s);
    EXPECT_EQ(a.faces.size(), 1u);
    EXPECT_EQ(std::count_if(a.edges.begin(), a.edges.end(), [](const auto& e) { return !e.membranes.empty(); }), 1);
}

}  // namespace
}  // namespace wallfoot::testing
