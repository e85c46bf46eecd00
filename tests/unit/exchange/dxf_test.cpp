// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "core/exchange/dxf.hpp"
#include "core/file/study_file.hpp"
#include "core/text/number_entry.hpp"
#include "tests/unit/exchange/dxf_files.hpp"
#include "tests/unit/file/sample_study.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

using test::dxf_line;
using test::dxf_with;

std::string file_of(const std::string& path) {
    std::ifstream in(in_tree(path), std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

struct Measured {
    double length = 0, area = 0;
    Extent box;
};

Measured measured(const Drawing& drawing, const std::string& layer) {
    Measured result;
    std::vector<bool> wanted;
    for (const DrawingLayer& l : drawing.layers) wanted.push_back(l.name == layer);
    result.box = extent_of(drawing, wanted);
    for (const Stroke& stroke : drawing.strokes) {
        if (!wanted[static_cast<std::size_t>(stroke.layer)]) continue;
        const auto& p = stroke.points;
        double doubled = 0;
        for (std::size_t i = stroke.closed ? 0 : 1; i < p.size(); ++i) {
            const Place a = p[i == 0 ? p.size() - 1 : i - 1], b = p[i];
            result.length += std::hypot(b.x - a.x, b.y - a.y);
            doubled += a.x * b.y - a.y * b.x;
        }
        if (stroke.closed) result.area += std::abs(doubled) / 2;
    }
    return result;
}

// Source: tests/reference/dxf/make_drawings.py – written, exploded and measured by a second package. Our chords keep
// to 0.1 mm, which a box may lack and an area lose along its curves.
TEST(Dxf, every_kind_lies_where_a_second_package_puts_it) {
    const auto expected = nlohmann::json::parse(file_of("tests/reference/dxf/expected.json"));
    ASSERT_GE(expected.size(), 20u);
    for (const char* name : {"r2000", "r2018"}) {
        const Drawing drawing = read_dxf(file_of("tests/reference/dxf/" + std::string(name) + ".dxf"), 1);
        for (const auto& [layer, sums] : expected.items()) {
            const Measured found = measured(drawing, layer);
            const double length = sums["length"];
            EXPECT_NEAR(found.length, length, 0.004 * length) << name << " " << layer;
            EXPECT_NEAR(found.area, sums["area"].get<double>(), 0.1 * length) << name << " " << layer;
            const double box[] = {found.box.left, found.box.bottom, found.box.right, found.box.top};
            for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(box[i], sums["box"][i].get<double>(), 0.1) << name << " " << layer << " side " << i;
        }
    }
}

TEST(Dxf, chords_keep_to_a_tenth_of_a_millimetre_whatever_the_unit) {
    const std::string circle = dxf_with("0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n0.5\n");  // 0.5 m
    const Drawing drawing = read_dxf(circle, 1000);
    ASSERT_EQ(drawing.strokes.size(), 1u);
    EXPECT_TRUE(drawing.strokes[0].closed);
    const auto& p = drawing.strokes[0].points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Place a = p[i], b = p[(i + 1) % p.size()];
        EXPECT_NEAR(std::hypot(a.x, a.y), 0.5, 1e-12);
        EXPECT_GT(std::hypot((a.x + b.x) / 2, (a.y + b.y) / 2), 0.5 - 0.1 / 1000);
    }
}

TEST(Dxf, nothing_is_dropped_without_being_counted) {
    const Drawing drawing = read_dxf(file_of("tests/reference/dxf/r2000.dxf"));
    EXPECT_EQ(drawing.left_out, (std::map<std::string, int>{{"TEXT", 2}, {"MTEXT", 1}, {"POINT", 1}, {"SOLID", 1}, {"CIRCLE, tilted", 1}, {"on paper layouts", 1}}));
    EXPECT_EQ(drawing.mm_per_unit, 1);
    EXPECT_EQ(read_dxf(file_of("tests/reference/dxf/r2018.dxf")).mm_per_unit, 10);
    for (const DrawingLayer& layer : drawing.layers) EXPECT_EQ(layer.shown, layer.name != "frozen" && layer.name != "off") << layer.name;
    const Drawing odd = read_dxf(dxf_with("0\nINSERT\n8\n0\n2\nmissing\n10\n0\n20\n0\n0\nHATCH\n8\n0\n91\n1\n92\n2\n93\n4\n10\n0\n" + dxf_line(0, 0, 0, 0) +
                                          "0\nLINE\n67\n1\n10\n0\n20\n0\n11\n1\n21\n1\n0\nSPLINE\n8\n0\n11\n0\n21\n0\n11\n1\n21\n1\n"));
    EXPECT_EQ(odd.left_out, (std::map<std::string, int>{{"INSERT of a block that is not there", 1}, {"HATCH", 1}, {"on paper layouts", 1}, {"SPLINE", 1}}));
    EXPECT_EQ(odd.strokes.size(), 1u);
}

TEST(Dxf, layer_names_are_read_in_either_alphabet) {
    const Drawing drawing = read_dxf(dxf_with(dxf_line(0, 0, 1, 1, "D\xC3\xA4mmung") + dxf_line(0, 0, 1, 1, "D\xE4mmung 2") + dxf_line(0, 0, 1, 1, "\\U+00C4 3")));
    ASSERT_EQ(drawing.layers.size(), 3u);
    EXPECT_EQ(drawing.layers[0].name, "Dämmung");
    EXPECT_EQ(drawing.layers[1].name, "Dämmung 2");
    EXPECT_EQ(drawing.layers[2].name, "Ä 3");
}

TEST(Dxf, what_is_no_text_drawing_is_refused_with_its_line) {
    using test::refusal_of;
    EXPECT_EQ(refusal_of([] { read_dxf(""); }).code, "dxf-not-text");
    EXPECT_EQ(refusal_of([] { read_dxf(std::string("binary\0drawing", 14)); }).code, "dxf-not-text");
    EXPECT_EQ(refusal_of([] { read_dxf("{ \"wallfoot\": 1 }"); }).code, "dxf-not-text");
    const std::string whole = dxf_with(dxf_line(0, 0, 1, 1));
    const Message cut = refusal_of([&] { read_dxf(whole.substr(0, whole.size() - 12)); });
    EXPECT_EQ(cut.code, "dxf-broken");
    EXPECT_EQ(cut.args.at("line"), "30");
    for (const char* wrong : {"nan", "inf", "-inf", "1e300", "12a", ""}) {
        const Message fault = refusal_of([&] { read_dxf(dxf_with(std::string("0\nLINE\n8\n0\n10\n") + wrong + "\n20\n0\n11\n1\n21\n1\n")); });
        EXPECT_EQ(fault.code, "dxf-number") << wrong;
        EXPECT_EQ(fault.args.at("line"), "22") << wrong;
    }
}

TEST(Dxf, hostile_drawings_are_refused_with_their_place) {
    using test::refusal_of;
    const auto block = [](const std::string& name, const std::string& content) { return "0\nBLOCK\n2\n" + name + "\n10\n0\n20\n0\n" + content + "0\nENDBLK\n"; };
    const auto place = [](const std::string& name) { return "0\nINSERT\n8\n0\n2\n" + name + "\n10\n0\n20\n0\n"; };
    const Message within = refusal_of([&] { read_dxf(dxf_with(place("a"), block("a", place("a")))); });
    EXPECT_EQ(within.code, "dxf-nested");
    EXPECT_EQ(within.args.at("block"), "a");
    EXPECT_EQ(within.args.at("line"), "20");
    // Ten blocks, each placing the next ten times: ten thousand million lines.
    std::string blocks;
    for (char c = 'a'; c < 'k'; ++c) {
        std::string ten;
        for (int i = 0; i < 10; ++i) ten += place(std::string(1, static_cast<char>(c + 1)));
        blocks += block(std::string(1, c), ten);
    }
    EXPECT_EQ(refusal_of([&] { read_dxf(dxf_with(place("a"), blocks + block("k", dxf_line(0, 0, 1, 1)))); }).code, "dxf-too-many");
    EXPECT_EQ(refusal_of([&] { read_dxf(dxf_with("0\nINSERT\n8\n0\n2\na\n10\n0\n20\n0\n70\n30000\n71\n30000\n", block("a", ""))); }).code, "dxf-too-many");
    std::string many;
    for (int i = 0; i < 300'000; ++i) many += "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n1\n21\n1\n";
    const Message fault = refusal_of([&] { read_dxf(dxf_with(many)); });
    EXPECT_EQ(fault.code, "dxf-too-many");
    EXPECT_EQ(fault.args.at("line"), std::to_string(16 + 12 * 200'000 + 2));
    // Counts that promise more than there is.
    EXPECT_EQ(read_dxf(dxf_with("0\nHATCH\n8\n0\n91\n1000000000\n92\n2\n93\n1000000000\n10\n0\n20\n0\n")).left_out.at("HATCH"), 1);
    EXPECT_EQ(read_dxf(dxf_with("0\nSPLINE\n8\n0\n71\n1000000000\n40\n0\n40\n1\n10\n0\n20\n0\n")).left_out.at("SPLINE"), 1);
    EXPECT_EQ(read_dxf(dxf_with("0\nARC\n8\n0\n10\n0\n20\n0\n40\n1\n50\n1000000000000\n51\n0\n")).left_out.at("ARC"), 1);
}

TEST(Dxf, ends_are_joined_up_to_the_gap_and_the_open_ones_are_listed) {
    // A square of four lines with one corner 0.8 open, and a line that joins nothing.
    const std::string lines = dxf_line(0, 0, 100, 0) + dxf_line(100, 100, 100, 0) + dxf_line(100, 100, 0, 100) + dxf_line(0, 99.2, 0, 0) + dxf_line(300, 0, 400, 0);
    const Drawing drawing = read_dxf(dxf_with(lines));
    const Joined tight = joined(drawing, 0.5), wide = joined(drawing, 1);
    EXPECT_TRUE(tight.closed.empty());
    ASSERT_EQ(tight.open.size(), 4u);
    EXPECT_NEAR(tight.open[0].gap, 0.8, 1e-9);
    ASSERT_EQ(wide.closed.size(), 1u);
    EXPECT_EQ(wide.closed[0].size(), 4u);
    ASSERT_EQ(wide.open.size(), 2u);
    EXPECT_EQ(wide.open[0].at.x, 300);
    EXPECT_NEAR(wide.open[0].gap, 200, 1e-9);
    EXPECT_EQ(wide.branches, 0);
    // A line that ends on a corner: more than two ends meet, and no outline is guessed.
    const Joined branched = joined(read_dxf(dxf_with(lines + dxf_line(100, 0, 200, 0))), 1);
    EXPECT_TRUE(branched.closed.empty());
    EXPECT_EQ(branched.branches, 1);
    // The same outline twice, as an edge and as a hatch, is one.
    const std::string square = "0\nLWPOLYLINE\n8\n0\n90\n3\n70\n1\n10\n0\n20\n0\n10\n9\n20\n0\n10\n9\n20\n9\n";
    EXPECT_EQ(joined(read_dxf(dxf_with(square + square)), 1).closed.size(), 1u);
}

TEST(Dxf, site_coordinates_come_to_the_origin_and_into_millimetres) {
    const Drawing drawing = read_dxf(dxf_with(dxf_line(451'234.5, 207'100.25, 451'236.5, 207'101.5, "keep") + dxf_line(0, 0, 1, 1, "other")));
    const std::vector<bool> wanted{true, false};
    const Extent box = extent_of(drawing, wanted);
    const Drawing mm = in_mm(drawing, wanted, 1000, {box.left, box.bottom});
    ASSERT_EQ(mm.strokes.size(), 1u);
    EXPECT_NEAR(mm.strokes[0].points[0].x, 0, 1e-6);
    EXPECT_NEAR(mm.strokes[0].points[1].x, 2000, 1e-6);
    EXPECT_NEAR(mm.strokes[0].points[1].y, 1250, 1e-6);
    EXPECT_TRUE(extent_of(drawing, {false, false}).empty());
}

// What leaves as DXF comes back on the same grid points.
TEST(Dxf, a_section_survives_the_way_out_and_in) {
    const Section section = *read_study(test::full_study()).study.variants[0].section;
    const std::string text = dxf_text(plain_drawing(section));
    const Drawing back = read_dxf(text);
    EXPECT_EQ(back.mm_per_unit, 1);
    EXPECT_EQ(back.left_out, (std::map<std::string, int>{{"TEXT", 3}}));  // two dimensions and a text
    ASSERT_EQ(back.layers.size(), 6u);
    std::vector<Outline> outlines, expected;
    for (const Stroke& stroke : back.strokes) {
        if (back.layers[static_cast<std::size_t>(stroke.layer)].name != "pieces") continue;
        EXPECT_TRUE(stroke.closed);
        Outline& outline = outlines.emplace_back();
        for (const Place p : stroke.points) outline.push_back({from_mm(p.x), from_mm(p.y)});
    }
    for (const Piece& piece : section.pieces) {
        expected.push_back(piece.outline);
        for (const Outline& hole : piece.holes) expected.push_back(hole);
    }
    EXPECT_EQ(outlines, expected);
    Drawing lines = plain_drawing(section);
    lines.writings.clear();
    EXPECT_EQ(dxf_text(in_mm(back, std::vector<bool>(6, true), 1, {})), dxf_text(lines));
}

/// The lines on one layer, as "x,y x,y" in mm to a thousandth.
std::vector<std::string> lines_on(const Drawing& drawing, const std::string& layer) {
    std::vector<std::string> lines;
    for (const Stroke& stroke : drawing.strokes) {
        if (drawing.layers[static_cast<std::size_t>(stroke.layer)].name != layer) continue;
        std::string& line = lines.emplace_back();
        for (const Place p : stroke.points) line += (line.empty() ? "" : " ") + number_text(p.x) + "," + number_text(p.y);
    }
    return lines;
}

// Places worked out by hand from the points and the offsets: a helping line begins 12 mm from its point, all lines go
// 12 mm too far, the oblique strokes reach 15 mm to either side at 45°.
TEST(Dxf, dimensions_and_texts_leave_on_layers_of_their_own) {
    Section section = *read_study(test::small_study()).study.variants[0].section;
    section.dimensions = {{"d1", {0, 0}, {300'000, 40'000}, "x", -100'000, "clear", {}}, {"d2", {0, 500'000}, {0, 102'500}, "y", 50'000, "", {}}, {"d3", {0, 0}, {30'000, 40'000}, "", 0, "", {}}};
    section.texts = {{"t1", {10'000, 20'000}, "100 %% dry^\nÄ < B", {}}};
    const Drawing drawing = plain_drawing(section);
    const std::vector<std::string> lines = lines_on(drawing, "dimensions");
    ASSERT_EQ(lines.size(), 5u + 5u + 3u);  // the last stands on its points: no helping lines
    EXPECT_EQ(lines[0], "-12,-100 312,-100");
    EXPECT_EQ(lines[1], "0,-12 0,-112");
    EXPECT_EQ(lines[2], "-10.607,-110.607 10.607,-89.393");
    EXPECT_EQ(lines[3], "300,28 300,-112");
    EXPECT_EQ(lines[5], "50,512 50,90.5");
    EXPECT_EQ(lines[10], "-7.2,-9.6 37.2,49.6");
    ASSERT_EQ(drawing.writings.size(), 5u);
    const auto& w = drawing.writings;
    EXPECT_EQ(w[0].text, "300 clear");
    EXPECT_EQ(w[1].text, "397.5");
    EXPECT_EQ(w[2].text, "50");
    EXPECT_NEAR(w[0].rotation, 0, 1e-9);
    EXPECT_NEAR(w[1].rotation, 90, 1e-9);  // to be read from the right, though it was measured downwards
    EXPECT_NEAR(w[2].rotation, 53.130, 1e-3);
    EXPECT_NEAR(w[0].at.x, 150, 1e-9);
    EXPECT_GT(w[0].at.y, -100);
    EXPECT_LT(w[1].at.x, 50);
    EXPECT_NEAR(w[1].at.y, 301.25, 1e-9);
    EXPECT_EQ(w[3].text, "100 %% dry^");
    EXPECT_EQ(w[4].text, "Ä < B");
    EXPECT_LT(w[4].at.y, w[3].at.y);
    const std::string dxf = dxf_text(drawing);
    for (const char* text : {"  0\nTEXT\n  8\ndimensions\n", "  1\n300 clear\n 50\n0\n 72\n1\n", "  1\n100 % % dry^ \n 50\n0\n  0\n", "  1\n\\U+00C4 < B\n"}) EXPECT_NE(dxf.find(text), std::string::npos) << text;
    const std::string svg = svg_text(drawing);
    for (const char* text : {"<g id=\"dimensions\"", "<g id=\"texts\"", ">300 clear</text>", "rotate(-90)", ">Ä &lt; B</text>"}) EXPECT_NE(svg.find(text), std::string::npos) << text;
}

TEST(Dxf, all_that_is_written_lies_on_the_sheet_of_an_svg) {
    Drawing drawing;
    drawing.layers = {{"texts", true}};
    drawing.writings = {{{0, 0}, 10, 0, false, 0, "12345"}, {{0, 0}, 10, 90, true, 0, "12"}};
    const std::string svg = svg_text(drawing);
    EXPECT_NE(svg.find("viewBox=\"0 0 90 60\""), std::string::npos);  // −10 … 60 and −20 … 20, and 10 around
    EXPECT_NE(svg.find("translate(20,30) rotate(0)"), std::string::npos);
}

TEST(Dxf, coordinates_of_any_grid_point_are_written_in_full) {
    Drawing drawing;
    drawing.layers = {{"Dämmung <1>", true}};
    drawing.strokes = {{{{-499'999.999, 0.001}, {123'456.789, -0.002}}, false, 0}};
    const Drawing back = read_dxf(dxf_text(drawing));
    EXPECT_EQ(back.layers.at(0).name, drawing.layers[0].name);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_EQ(back.strokes.at(0).points.at(i).x, drawing.strokes[0].points[i].x);
        EXPECT_EQ(back.strokes.at(0).points.at(i).y, drawing.strokes[0].points[i].y);
    }
}

}  // namespace
}  // namespace wallfoot
