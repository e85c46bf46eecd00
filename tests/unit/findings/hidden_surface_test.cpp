// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

std::shared_ptr<const Findings> hiding(const std::string& path, Junction j = {}) {
    Draft d = junction(j);
    if (!path.empty()) d.more += R"(, "hidden": [{"id": "skirting", "path": )" + path + R"(, "reason": "behind the skirting"}])";
    return d.solved();
}

/// The coldest of points close together along a straight piece of surface, mm, by the field itself.
double coldest(const Findings& f, double x0, double y0, double x1, double y1) {
    double lowest = 1e9;
    for (int i = 0; i <= 2000; ++i) {
        const double t = i / 2000.0;
        if (const auto at = f.check_solution->temperature_at(1000 * (x0 + t * (x1 - x0)), 1000 * (y0 + t * (y1 - y0)), f.temperatures)) lowest = std::min(lowest, *at);
    }
    return lowest;
}

}  // namespace

TEST(HiddenSurface, IsLeftOutOfTheLowestTemperatureAndBothAreTold) {
    const auto all = hiding(""), seen = hiding("[[-60, 325], [0, 325], [0, 425.5]]");
    const auto &before = surface_of(*all, Purpose::surface_check), &after = surface_of(*seen, Purpose::surface_check);
    ASSERT_TRUE(after.whole && after.whole->fRsi && after.fRsi);
    EXPECT_FALSE(before.whole);
    EXPECT_DOUBLE_EQ(*after.whole->fRsi, *before.fRsi);
    EXPECT_GT(*after.fRsi, *before.fRsi + 0.005);
    const double expected = std::min(coldest(*seen, 0, 425.5, 0, 1825), coldest(*seen, -4000, 325, -60, 325));
    EXPECT_NEAR(after.lowest, expected, 1e-5);
    EXPECT_FALSE(after.mean);  // its bounds are those of what is hidden
    for (const char* code : {"surface-hidden", "surface-hidden-effect"}) EXPECT_TRUE(says(*seen, code)) << code;
    bool repeated = false;
    for (const Message& message : seen->messages) repeated |= english(message).find("behind the skirting") != std::string::npos;
    EXPECT_TRUE(repeated);
}

TEST(HiddenSurface, WhatLiesElsewhereLeavesNothingOut) {
    const auto f = hiding("[[-700, 900], [-600, 900]]");
    EXPECT_DOUBLE_EQ(*surface_of(*f, Purpose::surface_check).fRsi, *surface_of(*hiding(""), Purpose::surface_check).fRsi);
    EXPECT_TRUE(says(*f, "hidden-not-on-surface"));
    EXPECT_FALSE(says(*f, "surface-hidden"));
}

TEST(HiddenSurface, AllOfItHiddenLeavesNoneOut) {
    const auto f = hiding("[[-4000, 325], [0, 325], [0, 1825]]");
    const auto& found = surface_of(*f, Purpose::surface_check);
    EXPECT_FALSE(found.whole);
    EXPECT_TRUE(says(*f, "hidden-everything"));
    EXPECT_FALSE(says(*f, "surface-hidden"));
    EXPECT_DOUBLE_EQ(*found.fRsi, *surface_of(*hiding(""), Purpose::surface_check).fRsi);
}

TEST(HiddenSurface, NeedsAReason) {
    Draft d = plane_wall();
    d.more = R"(, "hidden": [{"id": "h", "path": [[0, 0], [0, 100]], "reason": " "}])";
    EXPECT_THROW(d.study(), InputFault);
}

TEST(SurfaceFactor, IsRefusedWhereItIsNotWarmerInside) {
    for (const double outside : {1.0, 2.0}) {
        const auto f = junction({.inside = 1, .outside = outside}).solved();
        for (const SurfaceFinding& found : f->surface) EXPECT_FALSE(found.fRsi);
        EXPECT_TRUE(says(*f, "no-fRsi-not-warmer"));
    }
    EXPECT_FALSE(says(*junction({}).solved(), "no-fRsi-not-warmer"));
}
