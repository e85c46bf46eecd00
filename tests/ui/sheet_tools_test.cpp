// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/window_fixture.hpp"

#include "core/study/edits.hpp"
#include "ui/sheet/outline_tool.hpp"
#include "ui/sheet/snap.hpp"

using namespace wallfoot;

namespace {

Section two_boxes() {
    Section section;
    section.cut = {-1000 * mm, -1000 * mm, 1000 * mm, 1000 * mm};
    for (const auto& [a, b] : {std::pair{Point{0, 0}, Point{200 * mm, 300 * mm}}, std::pair{Point{97 * mm, 203 * mm}, Point{397 * mm, 603 * mm}}}) {
        Piece piece;
        piece.id = section.pieces.empty() ? "below" : "above";
        piece.outline = rectangle_outline(a, b);
        section.pieces.push_back(piece);
    }
    return section;
}

}  // namespace

TEST(Snapping, goes_by_priority_and_then_by_nearness) {
    const Snapper snapper(two_boxes());
    const auto at = [&](double x, double y) { return snapper.snap({x, y}, 8, 10); };
    EXPECT_EQ(at(3, -4).kind, SnapKind::corner);
    EXPECT_EQ(at(3, -4).at, (Point{0, 0}));
    EXPECT_EQ(at(201, 205).kind, SnapKind::crossing);
    EXPECT_EQ(at(201, 205).at, (Point{200 * mm, 203 * mm}));
    EXPECT_EQ(at(102, 2).kind, SnapKind::midpoint);
    EXPECT_EQ(at(102, 2).at, (Point{100 * mm, 0}));
    EXPECT_EQ(at(52.4, 3).kind, SnapKind::on_edge);
    EXPECT_EQ(at(52.4, 3).at, (Point{50 * mm, 0}));
    EXPECT_EQ(at(-203, 407).kind, SnapKind::grid);
    EXPECT_EQ(at(-203, 407).at, (Point{-200 * mm, 410 * mm}));
}

TEST(Snapping, nothing_snaps_to_what_is_dragged) {
    const Snapper snapper(two_boxes(), {Point{0, 0}});
    EXPECT_EQ(snapper.snap({3, -4}, 8, 10).kind, SnapKind::grid);
    EXPECT_EQ(snapper.snap({201, 1}, 8, 10).kind, SnapKind::corner);
}

TEST(Snapping, a_line_goes_on_level_with_its_last_corner_and_meets_edges_there) {
    const Snapper snapper(two_boxes());
    const auto at = [&](double x, double y) { return snapper.snap({x, y}, 8, 10, Point{-300 * mm, 73 * mm}); };
    EXPECT_EQ(at(-152, 70).kind, SnapKind::in_line);
    EXPECT_EQ(at(-152, 70).at, (Point{-150 * mm, 73 * mm}));
    EXPECT_EQ(at(-297, -400).at, (Point{-300 * mm, -400 * mm}));
    EXPECT_EQ(at(3, 70).kind, SnapKind::crossing);
    EXPECT_EQ(at(3, 70).at, (Point{0, 73 * mm})) << "not to the grid along the edge";
    EXPECT_EQ(at(3, 90).at, (Point{0, 90 * mm}));
    EXPECT_EQ(at(-152, 90).kind, SnapKind::grid);
}

TEST(Picking, topmost_first_and_holes_show_what_is_below) {
    Section section = two_boxes();
    EXPECT_EQ(pieces_at(section, {150 * mm, 250 * mm}), (std::vector<std::size_t>{1, 0}));
    section.pieces[1].holes = {rectangle_outline({120 * mm, 220 * mm}, {180 * mm, 280 * mm})};
    EXPECT_EQ(pieces_at(section, {150 * mm, 250 * mm}), (std::vector<std::size_t>{0}));
    EXPECT_TRUE(pieces_at(section, {-1, -1}).empty());
}

TEST(OutlineTool, a_typed_length_takes_its_direction_from_the_mouse) {
    OutlineTool tool(OutlineTool::Shape::polygon);
    tool.hover({{0, 0}, SnapKind::grid});
    EXPECT_EQ(tool.commit(), OutlineTool::Step::corner_set);
    tool.hover({{100 * mm, 8 * mm}, SnapKind::grid});  // nearly along x
    tool.type(OutlineTool::length, "250");
    EXPECT_EQ(tool.target(), (Point{250 * mm, 0}));
    tool.hover({{30 * mm, 40 * mm}, SnapKind::corner});  // held by the drawing: exactly there (3-4-5)
    EXPECT_EQ(tool.target(), (Point{150 * mm, 200 * mm}));
    tool.type(OutlineTool::angle, "90");
    EXPECT_EQ(tool.target(), (Point{0, 250 * mm}));
    tool.type(OutlineTool::dx, "-12,5");
    EXPECT_EQ(tool.target(), (Point{-12'500, 0}));
    tool.type(OutlineTool::dx, "1..2");
    EXPECT_EQ(tool.problem(), "entry-two-separators");
    EXPECT_EQ(tool.commit(), OutlineTool::Step::refused);
    EXPECT_EQ(tool.corners().size(), 1u);
}

TEST(OutlineTool, closes_on_the_first_corner_and_takes_corners_back) {
    OutlineTool tool(OutlineTool::Shape::polygon);
    for (const Point p : {Point{0, 0}, Point{100, 0}, Point{100, 100}}) {
        EXPECT_EQ(tool.close(), OutlineTool::Step::refused);
        tool.hover({p, SnapKind::grid});
        EXPECT_EQ(tool.commit(), OutlineTool::Step::corner_set);
        EXPECT_EQ(tool.commit(), OutlineTool::Step::refused);
        if (p.y == 0) continue;
        EXPECT_TRUE(tool.take_back());
        EXPECT_EQ(tool.commit(), OutlineTool::Step::corner_set);
    }
    tool.hover({{0, 0}, SnapKind::corner});
    EXPECT_EQ(tool.commit(), OutlineTool::Step::closed);
    EXPECT_EQ(tool.corners().size(), 3u);
}

TEST(OutlineTool, a_rectangle_needs_two_sizes) {
    OutlineTool tool(OutlineTool::Shape::rectangle);
    tool.type(OutlineTool::x, "10 cm");
    tool.type(OutlineTool::y, "0");
    EXPECT_EQ(tool.commit(), OutlineTool::Step::corner_set);
    tool.type(OutlineTool::dx, "-50");
    tool.hover({{0, 0}, SnapKind::grid});
    EXPECT_EQ(tool.commit(), OutlineTool::Step::refused);
    tool.type(OutlineTool::dy, "2*30");
    EXPECT_EQ(tool.commit(), OutlineTool::Step::closed);
    EXPECT_EQ(tool.corners(), rectangle_outline({50 * mm, 0}, {100 * mm, 60 * mm}));
}

TEST(OutlineTool, a_line_follows_and_takes_the_way_back_in_one_step) {
    OutlineTool tool(OutlineTool::Shape::line);
    tool.set_follow([](Point from, Point to) { return from.x != to.x && from.y != to.y ? Path{{to.x, from.y}} : Path{}; });
    const auto set = [&](Point p, SnapKind kind = SnapKind::corner) {
        tool.hover({p, kind});
        return tool.commit();
    };
    EXPECT_EQ(set({0, 0}), OutlineTool::Step::corner_set);
    EXPECT_EQ(tool.close(), OutlineTool::Step::refused);
    EXPECT_EQ(set({100, 50}), OutlineTool::Step::corner_set);
    EXPECT_EQ(tool.corners(), (Path{{0, 0}, {100, 0}, {100, 50}}));
    EXPECT_EQ(set({100, 50}), OutlineTool::Step::refused);
    EXPECT_TRUE(tool.take_back());
    EXPECT_EQ(tool.corners(), (Path{{0, 0}}));
    EXPECT_EQ(set({100, 50}, SnapKind::free), OutlineTool::Step::corner_set);
    EXPECT_EQ(tool.corners(), (Path{{0, 0}, {100, 50}})) << "held by nothing it goes straight";
    tool.hover({{900, 900}, SnapKind::corner});
    tool.type(OutlineTool::dx, "30 mm");
    tool.type(OutlineTool::dy, "10");
    EXPECT_EQ(tool.commit(), OutlineTool::Step::corner_set);
    EXPECT_EQ(tool.corners().back(), (Point{100 + 30 * mm, 50 + 10 * mm})) << "typed: straight there";
    EXPECT_EQ(tool.corners().size(), 3u);
    EXPECT_EQ(tool.close(), OutlineTool::Step::closed);
}

TEST(OutlineTool, a_point_may_ask_for_a_temperature_and_a_height_for_nothing_else) {
    OutlineTool point(OutlineTool::Shape::point);
    point.ask_temperature();
    point.hover({{5, 6}, SnapKind::grid});
    EXPECT_EQ(point.commit(), OutlineTool::Step::corner_set);
    EXPECT_EQ(point.fields(), (std::vector{OutlineTool::temperature}));
    EXPECT_EQ(point.commit(), OutlineTool::Step::refused);
    point.type(OutlineTool::temperature, "-2,5 °");
    EXPECT_EQ(point.commit(), OutlineTool::Step::closed);
    EXPECT_EQ(point.typed_temperature(), -2.5);
    EXPECT_EQ(point.corners(), (Path{{5, 6}}));
    OutlineTool height(OutlineTool::Shape::height);
    height.type(OutlineTool::height, "15 cm");
    EXPECT_EQ(height.commit(), OutlineTool::Step::closed);
    EXPECT_EQ(height.corners().front().y, 150 * mm);
}
