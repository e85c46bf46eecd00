// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/rising_damp.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace wallfoot {
namespace {

// Formula of Hall and Hoff (from memory), evaluated by hand for S 1 mm/√min, e 0.001 mm/min, θ 0.2. The wall of 500 mm is
// also given as 1.12 m and 111 L in public material that cites their paper in the Proceedings of the Royal Society.
TEST(RisingDamp, heights_and_water_held) {
    const struct {
        double thickness, height;
    } table[] = {{100, 500}, {150, 612}, {215, 733}, {300, 866}, {500, 1118}};
    for (const auto& line : table) EXPECT_NEAR(rising_damp({1, line.thickness, 0.001, 0.2}).height, line.height, 0.5) << line.thickness;
    EXPECT_NEAR(rising_damp({1, 500, 0.001, 0.2}).held, 111.8, 0.05);
}

TEST(RisingDamp, laws) {
    const RisingDampInputs in{0.8, 215, 0.0015, 0.18};
    const double h = rising_damp(in).height;
    EXPECT_NEAR(rising_damp({2 * 0.8, 215, 0.0015, 0.18}).height, 2 * h, 1e-9 * h);
    EXPECT_NEAR(rising_damp({0.8, 2 * 215, 0.0015, 0.18}).height, std::sqrt(2) * h, 1e-9 * h);
    EXPECT_NEAR(rising_damp({0.8, 215, 4 * 0.0015, 0.18}).height, h / 2, 1e-9 * h);
    EXPECT_NEAR(rising_damp({0.8, 215, 0.0015, 4 * 0.18}).height, h / 2, 1e-9 * h);
    // What is held, over what flows through in a day, is the time that water stays.
    const RisingDamp out = rising_damp(in);
    EXPECT_NEAR(out.held / out.flow, out.residence, 1e-9 * out.residence);
    // In balance the capillary inflow b·S²/(2·θ·h) is the evaporation e·h.
    EXPECT_NEAR(in.thickness * in.sorptivity * in.sorptivity / (2 * in.water_content * h), in.evaporation * h, 1e-12);
}

TEST(RisingDamp, range_narrows_with_what_is_known) {
    const RisingDampRange open = typical_rising_damp(100), known = typical_rising_damp(100, 1.0);
    EXPECT_LT(open.low.height, known.low.height);
    EXPECT_LT(known.high.height, open.high.height);
    EXPECT_NEAR(known.high.height / known.low.height, 2, 1e-9);  // evaporation 4 times as fast
    EXPECT_THROW(rising_damp({0, 100, 0.001, 0.2}), std::invalid_argument);
    EXPECT_THROW(rising_damp({1, 100, 0.001, 1.2}), std::invalid_argument);
}

}  // namespace
}  // namespace wallfoot
