// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/difference_map.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"

namespace wallfoot {
namespace {

/// A wall of two layers, each of 0.1 m and 0.1 W/(m·K), with the surfaces at the temperature of the air: temperatures fall
/// straight from the inside on the left to the outside.
Study layered_wall(double inside, double outside) {
    const std::string json = R"({ "wallfoot": 1, "convention": "iso", "materials": [ { "id": "m", "kind": "other", "lambda": { "dry": 0.1 } } ],
      "variants": [ { "id": "v", "name": "V", "section": { "cut": [-300, 0, 500, 400],
        "spaces": [ { "id": "in", "kind": "inside", "at": [-200, 200], "temperature": )" + std::to_string(inside) + R"(, "surface_resistance": 0 },
                    { "id": "out", "kind": "outside", "at": [400, 200], "temperature": )" + std::to_string(outside) + R"(, "surface_resistance": 0 } ],
        "pieces": [ { "id": "a", "material": "m", "moisture": "dry", "outline": [[0,0],[100,0],[100,400],[0,400]] },
                    { "id": "b", "material": "m", "moisture": "dry", "outline": [[100,0],[200,0],[200,400],[100,400]] } ] } } ] })";
    return read_study(json).study;
}

std::shared_ptr<const Findings> worked_out(const Study& study) { return find(study, study.variants.front()); }

struct DifferenceOfWalls : ::testing::Test {
    const View view = View::fitting({-300'000, 0, 500'000, 400'000}, QSizeF(400, 200), 0);
    float at(const TemperatureDifference& difference, double x_mm, double y_mm) const {
        const QPointF p = view.to_pixels(x_mm, y_mm);
        return difference.kelvin[static_cast<std::size_t>(p.y()) * static_cast<std::size_t>(difference.size.width()) + static_cast<std::size_t>(p.x())];
    }
};

TEST_F(DifferenceOfWalls, IsThatByHandAndTurnsItsSign) {
    // From 20 to 0 against 24 to 0: in the middle of the wall 12 − 10 K, at a quarter from the inside 18 − 15 K.
    const auto base = worked_out(layered_wall(20, 0)), warmer = worked_out(layered_wall(24, 0));
    const auto difference = temperature_difference(view, 1, *warmer, *base);
    EXPECT_NEAR(at(difference, 100, 200), 2, 0.05);
    EXPECT_NEAR(at(difference, 50, 100), 3, 0.05);
    EXPECT_NEAR(difference.largest, 4, 0.05);
    EXPECT_TRUE(std::isnan(at(difference, -100, 200))) << "air";
    const auto turned = temperature_difference(view, 1, *base, *warmer);
    for (std::size_t i = 0; i < turned.kelvin.size(); ++i) {
        ASSERT_EQ(std::isnan(turned.kelvin[i]), std::isnan(difference.kelvin[i]));
        if (!std::isnan(turned.kelvin[i])) {
            ASSERT_FLOAT_EQ(turned.kelvin[i], -difference.kelvin[i]);
        }
    }
}

TEST_F(DifferenceOfWalls, IsToldOnlyWhereBothHaveBody) {
    const Study whole = layered_wall(20, 0);
    Study half = whole;
    half.variants.front().section = std::make_shared<const Section>(delete_piece(*whole.variants.front().section, "b"));
    const auto difference = temperature_difference(view, 1, *worked_out(half), *worked_out(whole));
    EXPECT_TRUE(std::isnan(at(difference, 150, 200)));
    // Half the wall alone runs from 20 to 0 in 0.1 m: at 50 mm 10 °C, where the whole wall has 15 °C.
    EXPECT_NEAR(at(difference, 50, 200), -5, 0.1);
    const QImage map = difference_map(difference, difference_scale(difference.largest));
    const QPointF gone = view.to_pixels(150, 200), there = view.to_pixels(50, 200);
    EXPECT_EQ(qAlpha(map.pixel(gone.toPoint())), 0);
    EXPECT_EQ(qAlpha(map.pixel(there.toPoint())), 255);
}

TEST_F(DifferenceOfWalls, OnlyTheColderIsHatched) {
    const auto base = worked_out(layered_wall(20, 0)), warmer = worked_out(layered_wall(24, 0));
    // Along a line of one temperature (x = 60 mm, between two steps) an unhatched map has one colour.
    const auto colours_along = [&](const Findings& of, const Findings& from) {
        const QImage map = difference_map(temperature_difference(view, 1, of, from), DifferenceScale{5, 5});
        std::set<QRgb> all;
        for (int mm = 50; mm < 350; mm += 2) all.insert(map.pixel(view.to_pixels(60, mm).toPoint()));
        return all.size();
    };
    EXPECT_EQ(colours_along(*warmer, *base), 1u);
    EXPECT_EQ(colours_along(*base, *warmer), 2u);
}

TEST(DifferenceColours, AreLightInTheMiddleAndOfTwoHues) {
    const QColor middle = difference_colour(0);
    EXPECT_LE(std::max({middle.red(), middle.green(), middle.blue()}) - std::min({middle.red(), middle.green(), middle.blue()}), 4) << "no hue at nothing";
    for (int tenth = 1; tenth < 10; ++tenth) {
        const double t = tenth / 10.0;
        const QColor warm = difference_colour(t), cold = difference_colour(-t);
        // Blue against yellow to red is what every common kind of colour vision keeps apart (common practice, no source).
        EXPECT_GT(warm.red(), warm.blue()) << t;
        EXPECT_GT(cold.blue(), cold.red()) << t;
        EXPECT_NEAR(qGray(warm.rgb()), qGray(cold.rgb()), 24) << "one side is not louder than the other, " << t;
        EXPECT_LT(qGray(difference_colour(t + 0.1).rgb()), qGray(warm.rgb())) << "darker outwards, " << t;
    }
    EXPECT_EQ(difference_colour(NAN), middle);
}

TEST(DifferenceScale, IsEvenAboutNothing) {
    EXPECT_DOUBLE_EQ(difference_scale(3.3).end, 4);
    EXPECT_DOUBLE_EQ(difference_scale(3.3).step, 1);
    EXPECT_GE(difference_scale(0.42).end, 0.42);
    EXPECT_GT(difference_scale(0).end, 0);
}

}  // namespace
}  // namespace wallfoot
