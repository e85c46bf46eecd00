// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/layers.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "core/geometry/outline_check.hpp"
#include "core/text/message.hpp"

namespace wallfoot {
namespace {

constexpr Micrometres mm = um_per_mm;

std::string refusal(const std::function<void()>& act) {
    try {
        act();
    } catch (const InputFault& fault) {
        return fault.faults().front().code;
    }
    return "";
}

TEST(Layers, LieSideBySideAlongAWallOnTheSideAskedFor) {
    const Path up{{0, 0}, {0, 1000 * mm}};
    const std::vector<Layer> layers{{102'500, "brick", "Outer leaf"}, {50 * mm, "", ""}, {100 * mm, "block", ""}};
    const Section section = add_layers({}, up, false, layers);
    ASSERT_EQ(section.pieces.size(), 2U);  // the cavity stays open
    EXPECT_EQ(section.pieces[0].name, "Outer leaf");
    EXPECT_EQ(section.pieces[1].filled_with, "block");
    EXPECT_EQ(area2(section.pieces[0].outline), Area2(2) * 102'500 * 1'000'000);
    for (const Point p : section.pieces[1].outline) EXPECT_TRUE(p.x == 152'500 || p.x == 252'500);
    const Section leftwards = add_layers({}, up, true, layers);
    for (const Point p : leftwards.pieces[1].outline) EXPECT_TRUE(p.x == -152'500 || p.x == -252'500);
}

TEST(Layers, ShareTheirCornersAndAreMitredAtBends) {
    // Round an outer corner, along a slope of 3-4-5 and through a corner that lies straight between its neighbours.
    const Path chain{{0, 0}, {200 * mm, 0}, {400 * mm, 0}, {400 * mm, 300 * mm}, {800 * mm, 600 * mm}};
    for (const bool left : {false, true}) {
        const auto strips = layer_outlines(chain, left, {{40 * mm, "a", ""}, {25 * mm, "b", ""}});
        ASSERT_EQ(strips.size(), 2U);
        std::size_t shared = 0;
        for (const Point p : strips[0])
            for (const Point q : strips[1]) shared += p == q;
        EXPECT_EQ(shared, 4U);
        for (const auto& strip : strips) {
            EXPECT_FALSE(check_outline(strip));
            EXPECT_GT(area2(strip), 0);
        }
        // Every far corner lies the thickness away from the lines of the edges that meet there, to the rounding of the grid.
        for (const Point p : strips[0]) {
            if (std::find(chain.begin(), chain.end(), p) != chain.end()) continue;
            const double to_first = std::abs(static_cast<double>(p.y)), to_second = std::abs(static_cast<double>(p.x - 400 * mm));
            const double to_third = std::abs(3 * static_cast<double>(p.x - 400 * mm) - 4 * static_cast<double>(p.y - 300 * mm)) / 5;
            EXPECT_LE(std::min({std::abs(to_first - 40'000), std::abs(to_second - 40'000), std::abs(to_third - 40'000)}), 1.0);
        }
    }
}

TEST(Layers, RefuseWhatCannotBeLaid) {
    const Path chain{{0, 0}, {0, 100 * mm}, {50 * mm, 100 * mm}, {50 * mm, 0}};
    EXPECT_EQ(refusal([&] { add_layers({}, chain, false, {{30 * mm, "a", ""}}); }), "layer-too-thick");
    EXPECT_EQ(refusal([&] { add_layers({}, chain, false, {{20 * mm, "a", ""}}); }), "");
    EXPECT_EQ(refusal([&] { add_layers({}, chain, true, {{300 * mm, "a", ""}}); }), "");
    EXPECT_EQ(refusal([&] { add_layers({}, chain, true, {{0, "a", ""}}); }), "layer-too-thin");
    EXPECT_EQ(refusal([&] { add_layers({}, {{0, 0}, {10, 0}, {5, 0}}, true, {{10, "a", ""}}); }), "layer-turns-back");
    EXPECT_EQ(refusal([&] { add_layers({}, {{0, 0}, {0, 0}}, true, {{10, "a", ""}}); }), "layer-without-line");
    EXPECT_EQ(refusal([&] { add_layers({}, chain, true, {{499'999'999, "a", ""}, {10'000, "a", ""}}); }), "coordinate-too-large");
}

}  // namespace
}  // namespace wallfoot
