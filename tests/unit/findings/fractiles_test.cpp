// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/fractiles.hpp"

#include <gtest/gtest.h>

#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

/// Two leaves of masonry, each with the fractile its value is declared as (0: not stated).
Study two_leaves(double one, double other, const std::string& kind = "masonry") {
    drafts::Draft d;
    d.cut = "[-500, 0, 800, 1000]";
    for (const auto& [id, fractile] : {std::pair("inner", one), std::pair("outer", other)}) {
        std::string lambda = R"("value": 0.2, "source": "paper")";
        if (fractile > 0) lambda += ", \"fractile\": " + std::to_string(static_cast<int>(fractile));
        d.item(d.materials, std::string(R"({"id": ")") + id + R"(", "name": ")" + id + R"(", "kind": ")" + kind + R"(", "lambda": {"dry": {)" + lambda + "}}}");
    }
    d.piece("inner", 0, 0, 100, 1000).piece("outer", 100, 0, 200, 1000);
    d.space("in", "inside", -250, 500, 20).space("out", "outside", 600, 500, 0);
    return d.study();
}

TEST(Fractiles, OfMeanAndShareAreNotComparedWithoutAWord) {
    const struct {
        double one, other;
        const char* kind;
        bool told;
    } table[] = {{50, 90, "masonry", true}, {90, 50, "masonry", true}, {50, 50, "masonry", false}, {90, 90, "masonry", false}, {50, 0, "masonry", false}, {50, 90, "insulation", false}};
    for (const auto& line : table) EXPECT_EQ(mixed_fractiles(two_leaves(line.one, line.other, line.kind)).has_value(), line.told) << line.one << " " << line.other << " " << line.kind;
    const std::string told = english(*mixed_fractiles(two_leaves(50, 75)));
    EXPECT_NE(told.find("\"outer\" (75 %)"), std::string::npos) << told;
    const Study study = two_leaves(50, 90);
    const auto found = find(study, study.variants.front());
    EXPECT_TRUE(drafts::says(*found, "fractiles-mixed"));
    // Told with every value, and nothing is converted.
    EXPECT_NE(found->elements.at(0).layers.at(0).source.find("mean of production (50 %)"), std::string::npos) << found->elements.at(0).layers.at(0).source;
    EXPECT_NE(found->elements.at(0).layers.at(1).source.find("kept by 90 % of production"), std::string::npos);
    EXPECT_EQ(found->elements.at(0).layers.at(0).conductivity, found->elements.at(0).layers.at(1).conductivity);
}

TEST(Fractiles, OfWhatIsNotDrawnDoNotCount) {
    Study study = two_leaves(50, 50);
    Material other = study.materials.front();
    other.id = "unused";
    other.lambda.by_condition.begin()->second.fractile = 90;
    study.materials.push_back(other);
    EXPECT_FALSE(mixed_fractiles(study));
}

}  // namespace
}  // namespace wallfoot
