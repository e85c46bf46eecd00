// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/findings/surface_profile.hpp"
#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

// A plane wall, exact: every place has 1 − U·R_si, and the run is as long as the wall is high.
TEST(SurfaceProfile, planeWallHasOneFactorAllAlong) {
    Study study = drafts::Draft().material("wall", 0.4).piece("wall", 300, 0, 600, 1000).space("in", "inside", 100, 500, 20).space("out", "outside", 800, 500, 0).study();
    study.climate = Climate{};
    study.climate->months.assign(months_of_a_year, {.outside = 5, .humidity = 0.85, .inside = {}});
    study.climate->indoor = IndoorAir{.humidity_class = 3, .humidity = {}};
    const auto findings = find(study, study.variants.front());
    const auto profile = surface_profile(study, *findings, 0);
    ASSERT_EQ(profile.size(), 1u);
    EXPECT_NEAR(profile[0].back().along, 1.0, 1e-9);
    const double factor = 1 - 0.25 / (0.25 + 0.3 / 0.4 + 0.04);  // by the resistances of the surface check
    for (const ProfilePoint& point : profile[0]) {
        EXPECT_NEAR(*point.factor, factor, 1e-9);
        // ISO 13788, class 3 at 5 °C and 85 %: inside pressure 1409.3 Pa (from memory), over p_sat at the surface.
        const double surface = 5 + factor * 15;
        EXPECT_NEAR(*point.humidity, 1409.3 / (610.5 * std::exp(17.269 * surface / (237.3 + surface))), 1e-3);
    }
}

// At a wall foot the profile's lowest point is the lowest surface temperature of the findings, and the runs follow on.
TEST(SurfaceProfile, lowestOfAJunctionIsTheHeadline) {
    const auto draft = drafts::junction({});
    const Study study = draft.study();
    const auto findings = find(study, study.variants.front());
    const SurfaceFinding* headline = findings->headline_surface();
    ASSERT_TRUE(headline);
    const auto profile = surface_profile(study, *findings, headline->space);
    ASSERT_EQ(profile.size(), 1u);
    double lowest = 100;
    for (std::size_t i = 0; i < profile[0].size(); ++i) {
        const ProfilePoint& point = profile[0][i];
        lowest = std::min(lowest, point.temperature);
        if (i == 0) continue;
        const ProfilePoint& before = profile[0][i - 1];
        EXPECT_NEAR(point.along - before.along, std::hypot(point.x - before.x, point.y - before.y) / 1000, 1e-9);
    }
    EXPECT_NEAR(lowest, headline->lowest, 0.01);
    EXPECT_EQ(profile_csv(profile).find("run,along_m"), 0u);
}

}  // namespace
}  // namespace wallfoot
