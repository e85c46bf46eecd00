// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/unwritten.hpp"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <map>
#include <random>
#include <set>

#include "tests/unit/arrangement/sections.hpp"

namespace wallfoot::testing {
namespace {

Dimension dimension(Point from, Point to, const std::string& along = "") { return {"", from, to, along, 0, "", {}}; }

/// A wall of two leaves that goes on upwards, on a slab that goes on to the left, over soil that goes on to three sides.
Section begun() {
    Section s = section(0, 0, 1000, 1000);
    s.pieces = {solid("soil", box(-200, -200, 1200, 150), "soil"), solid("slab", box(-100, 150, 600, 300)), solid("inner", box(600, 100, 700, 1000)), solid("outer", box(800, 100, 900, 1300))};
    return s;
}

std::map<std::string, std::string> told(const Section& s) {
    std::map<std::string, std::string> words;
    for (const UnwrittenPiece& piece : unwritten_edges(s)) words[s.pieces[static_cast<std::size_t>(piece.piece)].id] = std::to_string(piece.edges.size()) + ": " + where_unwritten(piece);
    return words;
}

TEST(Unwritten, edges_that_go_on_beyond_the_cut_need_no_dimension) {
    using Told = std::map<std::string, std::string>;
    Section s = begun();
    // The widths of the leaves at foot and head; the thickness of the slab at both its ends. Soil, heights and lengths go on.
    EXPECT_EQ(told(s), (Told{{"slab", "2: up 150 to 300"}, {"inner", "2: across 600 to 700"}, {"outer", "2: across 800 to 900"}}));
    s.dimensions = {dimension(mm(600, 500), mm(700, 620), "x")};
    EXPECT_EQ(told(s), (Told{{"slab", "2: up 150 to 300"}, {"outer", "2: across 800 to 900"}}));
    // What a chain adds up to is written, wherever it stands: 800 – 600 – 900.
    s.dimensions.push_back(dimension(mm(800, 0), mm(600, 0)));
    s.dimensions.push_back(dimension(mm(600, 0), mm(900, 900), "x"));
    EXPECT_EQ(told(s), (Told{{"slab", "2: up 150 to 300"}}));
    // The other direction says nothing of it, nor does one that is slanted.
    s.dimensions.push_back(dimension(mm(150, 0), mm(300, 0), "x"));
    s.dimensions.push_back(dimension(mm(0, 150), mm(10, 300)));
    EXPECT_EQ(told(s), (Told{{"slab", "2: up 150 to 300"}}));
    s.dimensions.push_back(dimension(mm(77, 300), mm(77, 150)));
    EXPECT_TRUE(told(s).empty());
}

TEST(Unwritten, slanted_edges_are_written_across_and_up_or_along_themselves) {
    Section s = section(0, 0, 1000, 1000);
    s.pieces = {solid("roof", {mm(100, 100), mm(400, 100), mm(400, 500)})};
    EXPECT_EQ(told(s).at("roof"), "3: across 100 to 400; up 100 to 500; slanted (400, 500) to (100, 100)");
    Section along = s;
    along.dimensions = {dimension(mm(400, 500), mm(100, 100))};
    EXPECT_EQ(told(along).at("roof"), "2: across 100 to 400; up 100 to 500");
    along.dimensions = {dimension(mm(100, 100), mm(400, 500))};  // either way round
    EXPECT_EQ(told(along).at("roof"), "2: across 100 to 400; up 100 to 500");
    s.dimensions = {dimension(mm(100, 0), mm(400, 0), "x")};
    EXPECT_EQ(told(s).at("roof"), "2: up 100 to 500; slanted (400, 500) to (100, 100)");
    s.dimensions.push_back(dimension(mm(0, 100), mm(0, 500), "y"));
    EXPECT_TRUE(told(s).empty());
}

TEST(Unwritten, holes_count_and_what_lies_beyond_the_cut_does_not) {
    Section s = section(0, 0, 1000, 1000);
    s.pieces = {solid("wall", box(-10, -10, 1010, 1010)), solid("far", box(1000, 100, 1200, 200))};
    EXPECT_TRUE(told(s).empty());
    s.pieces[0].holes = {box(300, 400, 500, 600)};
    EXPECT_EQ(told(s).at("wall"), "4: across 300 to 500; up 400 to 600");
    EXPECT_EQ(told(s).size(), 1u);
}

TEST(Unwritten, the_list_of_one_piece_ends) {
    Section s = section(0, 0, 1000, 1000);
    Outline steps{mm(900, 10), mm(900, 900)};
    for (int i = 0; i < 20; ++i) steps.push_back(mm(900 - 20 * (i + 1), 900 - 20 * i)), steps.push_back(mm(900 - 20 * (i + 1), 900 - 20 * (i + 1)));
    steps.push_back(mm(500, 10));
    s.pieces = {solid("stair", steps)};
    const std::string words = told(s).at("stair");
    EXPECT_TRUE(words.ends_with("; and 31 more")) << words;  // 43 ways in all: 20 across, 20 up, right, left, foot
}

// An independent way to ask the same: lengths that were measured are rows of a matrix over the levels; another length
// follows from them when its row does not raise the rank.
TEST(Unwritten, agrees_with_linear_algebra) {
    std::mt19937 random(7);
    const auto upto = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    int missing = 0, given = 0;
    for (int round = 0; round < 400; ++round) {
        Section s = section(0, 0, 1000, 1000);
        const auto place = [&] { return mm(50 + 100 * upto(9), 50 + 100 * upto(9)); };
        for (int i = 0; i < 4; ++i) {
            const Point a = place();
            s.pieces.push_back(solid("p" + std::to_string(i), box(to_mm(a.x), to_mm(a.y), to_mm(a.x) + 100 * (1 + upto(2)), to_mm(a.y) + 100)));
        }
        for (int i = 0; i < 9; ++i) {
            const Point a = place(), b = place();
            if (a.x != b.x && a.y != b.y) s.dimensions.push_back(dimension(a, b, upto(2) ? "x" : "y"));
        }
        const auto rank = [&](bool up, Point a, Point b) {
            Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(s.dimensions.size()) + 1, 12);
            Eigen::Index row = 0;
            const auto put = [&](Point from, Point to) {
                rows(row, ((up ? from.y : from.x) - 50'000) / 100'000) -= 1;
                rows(row, ((up ? to.y : to.x) - 50'000) / 100'000) += 1;
            };
            for (const Dimension& d : s.dimensions)
                if ((d.along == "y") == up) put(d.from, d.to), ++row;
            put(a, b);
            return Eigen::FullPivLU<Eigen::MatrixXd>(rows).rank();
        };
        std::set<std::pair<Point, Point>> found;
        for (const UnwrittenPiece& piece : unwritten_edges(s))
            for (const auto& [a, b] : piece.edges) found.insert({a, b});
        for (const Piece& piece : s.pieces)
            for (std::size_t i = 0; i < piece.outline.size(); ++i) {
                const Point a = piece.outline[i], b = piece.outline[(i + 1) % piece.outline.size()];
                if (std::max({a.x, b.x, a.y, b.y}) >= 1'000'000) continue;  // broken off
                const bool up = a.x == b.x, follows = rank(up, a, b) == rank(up, a, a);
                EXPECT_EQ(found.contains({a, b}), !follows) << "round " << round;
                ++(follows ? given : missing);
            }
    }
    EXPECT_GT(missing, 500);
    EXPECT_GT(given, 500);
}

}  // namespace
}  // namespace wallfoot::testing
