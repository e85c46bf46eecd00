// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/masonry.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/standards/iso6946.hpp"

namespace wallfoot::masonry {
namespace {

std::string refusal(auto&& call) {
    try {
        call();
    } catch (const OutsideStandard& outside) {
        return outside.code();
    }
    return "accepted";
}

// Worked by hand, as noted: the first line is the common block 440 × 215 in 10 mm joints.
// f = 1 − L·h/((L + p)·(h + b)); λ_up = (L·(h + b)/(h/λ_u + b/λ_m) + p·λ_m)/(L + p).
TEST(Masonry, ByHand) {
    const struct {
        Bond bond;
        double share, across, up, up_even;
    } table[] = {
        // f = 1 − 94 600/101 250 = 0.06568; 0.15 + 0.06568·0.73 = 0.19795; (440·225/1444.697 + 8.8)/450 = 0.17184;
        // course (66 + 8.8)/450 = 0.166222, 225/(1293.450 + 11.364) = 0.17244
        {{440, 215, 10, 10, 0.15, 0.88}, 0.06568, 0.19795, 0.17184, 0.17244},
        // no perpends: one column; f = 10/225; 0.15 + 0.73/22.5; 225/(1433.333 + 11.364)
        {{440, 215, 10, 0, 0.15, 0.88}, 0.04444, 0.18244, 0.15574, 0.15574},
        // no bed joints: side by side in both ways; f = 10/450; 0.15 + 0.73/45
        {{440, 215, 0, 10, 0.15, 0.88}, 0.02222, 0.16622, 0.16622, 0.16622},
        // thin joints of 3 mm in a mortar like the unit change nothing
        {{599, 199, 3, 3, 0.11, 0.11}, 1 - 119201.0 / 121604.0, 0.11, 0.11, 0.11},
        // a dense unit in light mortar: (215·65 of 225·75) f = 0.171852; 1.1 − 0.171852·0.9; columns
        // 75/(59.0909 + 50) = 0.6875; (215·0.6875 + 10·0.2)/225 = 0.665833; course 1.06, 75/(61.3208 + 50) = 0.673729
        {{215, 65, 10, 10, 1.1, 0.2}, 0.171852, 0.945333, 0.665833, 0.673729},
    };
    for (const auto& line : table) {
        const Conductivities found = conductivities(line.bond);
        EXPECT_NEAR(found.mortar_share, line.share, 5e-6);
        EXPECT_NEAR(found.across, line.across, 5e-6);
        EXPECT_NEAR(found.up, line.up, 5e-6);
        EXPECT_NEAR(found.up_even, line.up_even, 5e-6);
    }
}

// A second way to the same: the combined method of ISO 6946 for one layer by itself, and for a course over a bed joint.
TEST(Masonry, AsTheCombinedMethodHasIt) {
    const Bond bond{440, 215, 10, 10, 0.15, 0.88};
    const Conductivities found = conductivities(bond);
    const auto layer = iso6946::combined_method(0, {{0.1, {{1 - found.mortar_share, 0.15}, {found.mortar_share, 0.88}}}}, 0);
    EXPECT_NEAR(0.1 / layer.upper, found.across, 1e-12);
    EXPECT_NEAR(0.1 / layer.lower, found.across, 1e-12);
    const double share = 10.0 / 450;
    const auto column = iso6946::combined_method(0, {{0.215, {{1 - share, 0.15}, {share, 0.88}}}, {0.010, {{1, 0.88}}}}, 0);
    EXPECT_NEAR(0.225 / column.upper, found.up, 1e-12);
    EXPECT_NEAR(0.225 / column.lower, found.up_even, 1e-12);
    EXPECT_LT(found.up, found.up_even) << "the greater resistance is the smaller conductivity";
}

TEST(Masonry, WhatCannotBeIsRefused) {
    const Bond sound{440, 215, 10, 10, 0.15, 0.88};
    const auto with = [&](double Bond::* field, double value) {
        Bond bond = sound;
        bond.*field = value;
        return refusal([&] { conductivities(bond); });
    };
    EXPECT_EQ(with(&Bond::length_mm, 0), "not-above-zero");
    EXPECT_EQ(with(&Bond::height_mm, -1), "not-above-zero");
    EXPECT_EQ(with(&Bond::bed_mm, -1), "below-zero");
    EXPECT_EQ(with(&Bond::perpend_mm, std::nan("")), "below-zero");
    EXPECT_EQ(with(&Bond::unit, 0), "not-above-zero");
    EXPECT_EQ(with(&Bond::mortar, std::nan("")), "not-above-zero");
    EXPECT_EQ(with(&Bond::bed_mm, 0), "accepted");
}

// R = d/λ: 0.1/0.69, and back again.
TEST(Masonry, AUnitOfWhichThePaperStatesR) {
    EXPECT_NEAR(conductivity_of_unit(0.1, 0.69), 0.144928, 5e-7);
    EXPECT_NEAR(iso6946::layer_resistance(0.1, conductivity_of_unit(0.1, 0.69)), 0.69, 1e-15);
    EXPECT_EQ(refusal([] { conductivity_of_unit(0, 1); }), "not-above-zero");
    EXPECT_EQ(refusal([] { conductivity_of_unit(0.1, -1); }), "not-above-zero");
}

}  // namespace
}  // namespace wallfoot::masonry
