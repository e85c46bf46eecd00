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

/// Small rooms in a block, each a space of its own.
Draft rooms(int count) {
    Draft d;
    d.material("block", 1).piece("block", 0, 0, 1000, 1000);
    for (int i = 0; i < count; ++i) {
        const double x = 50 + 100 * (i % 9), y = 50 + 100 * (i / 9);
        const auto id = "room-" + std::to_string(i);
        Draft::item(d.spaces, R"({"id": ")" + id + R"(", "kind": "other", "surface_resistance": 0.1, "temperature": )" + std::to_string(i) + "}");
        d.outline(id, R"("space": ")" + id + R"(")", {{x, y}, {x + 50, y}, {x + 50, y + 50}, {x, y + 50}});
    }
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

// The flows into the block sum up to nothing: steady state.
TEST(Limits, TwelveSpacesAreSolved) {
    FindingsOptions options;
    options.tolerance = 0.01;
    const auto f = rooms(12).solved(options);
    ASSERT_FALSE(f->has_fault());
    EXPECT_TRUE(f->converged);
    ASSERT_EQ(f->couplings.size(), 66u);
    double sum = 0, width = 0;
    for (const auto& flow : f->heat_flow) sum += flow.value, width += flow.width();
    EXPECT_NEAR(sum, 0, width);
}

TEST(Limits, MoreSpacesThanCanBeKeptAreAFault) {
    FindingsOptions loose;
    loose.tolerance = 10;
    EXPECT_FALSE(rooms(static_cast<int>(most_spaces)).solved(loose)->has_fault());
    const auto f = rooms(static_cast<int>(most_spaces) + 1).solved();
    EXPECT_TRUE(f->has_fault());
    EXPECT_TRUE(says(*f, "too-many-spaces"));
}
