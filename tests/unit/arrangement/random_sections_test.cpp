// SPDX-License-Identifier: GPL-3.0-or-later
// The visible area of every piece of random sections, against the exact polygon booleans of CGAL.
#include <CGAL/Boolean_set_operations_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_set_2.h>

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/unit/arrangement/sections.hpp"

namespace wallfoot::testing {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Polygon = CGAL::Polygon_2<Kernel>;
using Area = CGAL::Polygon_set_2<Kernel>;

Polygon polygon(const Outline& outline) {
    Polygon p;
    for (const Point q : outline) p.push_back({static_cast<double>(q.x), static_cast<double>(q.y)});
    return p;
}

/// µm²
double size(const Area& area) {
    std::vector<CGAL::Polygon_with_holes_2<Kernel>> parts;
    area.polygons_with_holes(std::back_inserter(parts));
    Kernel::FT sum = 0;
    for (const auto& part : parts) {
        sum += part.outer_boundary().area();
        for (auto hole = part.holes_begin(); hole != part.holes_end(); ++hole) sum += hole->area();  // turn the other way
    }
    return CGAL::to_double(sum);
}

/// A polygon that sees all its corners from its middle, so it never crosses itself.
Outline star(std::mt19937& random, bool coarse) {
    std::uniform_real_distribution<double> place(-100, 1100), radius(80, 500), turn(0, 2 * std::numbers::pi);
    const int corners = 3 + static_cast<int>(random() % 5);
    const double x = place(random), y = place(random), r = radius(random), start = turn(random);
    Outline out;
    for (int i = 0; i < corners; ++i) {
        const double angle = start + 2 * std::numbers::pi * i / corners;
        Point p = mm(x + r * std::cos(angle), y + r * std::sin(angle));
        if (coarse) p = mm(std::round(to_mm(p.x) / 50) * 50, std::round(to_mm(p.y) / 50) * 50);
        if (out.empty() || out.back() != p) out.push_back(p);
    }
    return out;
}

TEST(RandomSections, VisibleAreasAgreeWithPolygonBooleans) {
    std::mt19937 random(2024);
    for (int round = 0; round < 200; ++round) {
        Section s = section(0, 0, 1000, 1000);
        double length = 4e6;
        while (s.pieces.size() < 8) {
            Outline outline = star(random, round % 2 == 0);
            if (outline.size() < 3 || !polygon(outline).is_simple() || polygon(outline).area() <= 0) continue;
            for (std::size_t i = 0; i < outline.size(); ++i) {
                const Point a = outline[i], b = outline[(i + 1) % outline.size()];
                length += std::hypot(a.x - b.x, a.y - b.y);
            }
            s.pieces.push_back(solid(std::to_string(s.pieces.size()), outline));
        }
        const Arrangement a = arrange(study(), s);
        ASSERT_EQ(validate(a), std::vector<std::string>{}) << round;
        for (const Message& m : a.messages) ASSERT_NE(m.code, "arrangement-guard") << round;
        // Snapping moves a line by at most a micrometre or so: its area changes by no more than its length times that.
        const double allowed = 2 * length;
        Area open(polygon({{s.cut.left, s.cut.bottom}, {s.cut.right, s.cut.bottom}, {s.cut.right, s.cut.top}, {s.cut.left, s.cut.top}}));
        for (int i = static_cast<int>(s.pieces.size()) - 1; i >= 0; --i) {
            Area seen(open);
            seen.intersection(polygon(s.pieces[i].outline));
            EXPECT_NEAR(static_cast<double>(visible2(a, i)) / 2, size(seen), allowed) << round << " piece " << i;
            open.difference(polygon(s.pieces[i].outline));
        }
        EXPECT_NEAR(static_cast<double>(visible2(a, -1)) / 2, size(open), allowed) << round;
    }
}

TEST(RandomSections, WithEverythingInThemNeverThrow) {
    std::mt19937 random(99);
    std::uniform_int_distribution<int> place(-20, 120);
    for (int round = 0; round < 300; ++round) {
        Section s = section(0, 0, 100, 100);
        const auto point = [&] { return round % 2 ? mm(place(random), place(random)) : Point{place(random), place(random)}; };
        if (round % 2 == 0) s.cut = {0, 0, 100, 100};  // micrometres: snapping is at its worst
        for (int i = 0; i < 6; ++i) {
            s.pieces.push_back(solid("p", {point(), point(), point()}, i == 0 ? "soil" : "block"));
            s.pieces.back().holes = {{point(), point(), point()}};
            if (i % 2) s.pieces.back().moisture.reset();
        }
        s.pieces.push_back(filled("c", Fill::cutout, {point(), point(), point()}));
        s.pieces.push_back(filled("a", Fill::space, {point(), point(), point()}, "in"));
        s.spaces = {space("in", SpaceKind::inside, {point()}), space("out", SpaceKind::outside, {point()})};
        s.membranes = {{"m", MembraneKind::dpc, {point(), point(), point()}, {}, {}}};
        s.ground.left = point().y;
        s.ground.right = point().y;
        s.dpc.both = point().y;
        for (const CutSide side : {CutSide::left, CutSide::bottom, CutSide::right, CutSide::top}) {
            if (random() % 2) s.beyond[side].automatic = true;
            else if (random() % 2) s.beyond[side].distance = random() % 1000;
        }
        Arrangement a;
        ASSERT_NO_THROW(a = arrange(study(), s)) << round;
        ASSERT_EQ(validate(a), std::vector<std::string>{}) << round;
        for (const Message& m : a.messages) ASSERT_NE(m.code, "arrangement-guard") << round;
    }
}

}  // namespace
}  // namespace wallfoot::testing
