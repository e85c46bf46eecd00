// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "core/exchange/dxf.hpp"
#include "core/file/study_file.hpp"
#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

class DrawingCommand : public CommandTest {
  protected:
    Ran run(const std::string& arguments) { return CommandTest::run("drawing " + arguments); }
    std::string place(const std::string& name) { return (folder_ / name).string(); }
    const std::string sample = in_tree("samples/slab-insulation-below.wallfoot");
};

TEST_F(DrawingCommand, the_outlines_of_a_sample_come_back_on_the_grid) {
    const auto ran = run(sample + " --out " + place("foot.dxf"));
    ASSERT_EQ(ran.status, 0) << ran.err;
    const Drawing drawing = read_dxf(all_of(place("foot.dxf")));
    const Section section = *load_study(sample).study.variants[0].section;
    std::vector<Outline> found, expected;
    for (const Stroke& stroke : drawing.strokes) {
        if (drawing.layers[static_cast<std::size_t>(stroke.layer)].name != "pieces") continue;
        Outline& outline = found.emplace_back();
        for (const Place p : stroke.points) outline.push_back({from_mm(p.x), from_mm(p.y)});
    }
    for (const Piece& piece : section.pieces) {
        expected.push_back(piece.outline);
        expected.insert(expected.end(), piece.holes.begin(), piece.holes.end());
    }
    EXPECT_EQ(found, expected);
    EXPECT_FALSE(std::filesystem::exists(place("foot.dxf.part")));
}

TEST_F(DrawingCommand, svg_has_a_group_for_each_layer) {
    ASSERT_EQ(run(sample + " --out " + place("foot.svg")).status, 0);
    const std::string svg = all_of(place("foot.svg"));
    for (const char* layer : {"pieces", "membranes", "levels", "cut", "dimensions", "texts"}) EXPECT_NE(svg.find("<g id=\"" + std::string(layer) + "\""), std::string::npos) << layer;
    EXPECT_TRUE(svg.ends_with("</svg>\n"));
}

TEST_F(DrawingCommand, says_what_is_wrong) {
    EXPECT_EQ(run("").status, 2);
    EXPECT_EQ(run(sample).status, 2);
    EXPECT_EQ(run(sample + " --out " + place("x.pdf")).status, 2);
    EXPECT_EQ(run(sample + " --out " + place("x.dxf") + " --variant nobody").status, 2);
    EXPECT_EQ(run(sample + " --out /nowhere/x.dxf").status, 1);
    EXPECT_FALSE(std::filesystem::exists(place("x.dxf")));
}

}  // namespace
}  // namespace wallfoot
