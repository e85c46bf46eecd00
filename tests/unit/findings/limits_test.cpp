// SPDX-License-Identifier: GPL-3.0-or-later
// Drawings at the edge of what can be computed: an answer, or a refusal with its place.
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

/// A strip of λ 1 W/(m·K), 800 m long, with the inside at one end and the outside at the other.
Draft strip(double height_mm) {
    Draft d;
    d.cut = "[-500000, 0, 500000, " + std::to_string(height_mm) + "]";
    d.material("block", 1).piece("block", -400000, 0, 400000, height_mm);
    d.space("in", "inside", -450000, 0, 20).space("out", "outside", 450000, 0, 0);
    return d;
}

}  // namespace

// One layer: L2D = height / (R_si + length / λ + R_se), exact; R_si 0.13 and R_se 0.04 of the convention (ISO 6946).
TEST(Limits, ASlenderBodyNeedsFewTriangles) {
    for (const double height : {1.0, 0.01}) {
        const auto f = strip(height).solved();
        ASSERT_FALSE(f->has_fault());
        EXPECT_LT(f->solution->triangles.size(), 1000u);
        const double exact = height / 1000 / (0.13 + 800 + 0.04);
        const auto& found = f->couplings.at(0).value.value();
        EXPECT_LE(found.lower, exact);
        EXPECT_GE(found.upper, exact);
    }
}

TEST(Limits, APartTooThinForItsLengthIsRefusedWithItsPlace) {
    try {
        strip(0.001).solved();
        FAIL() << "a strip a thousand million times as long as it is high was worked out";
    } catch (const InputFault& fault) {
        EXPECT_EQ(fault.faults().front().code, "part-too-slender");
        EXPECT_EQ(fault.faults().front().pointer, "/variants/0");
        EXPECT_TRUE(fault.faults().front().at);
    }
}
