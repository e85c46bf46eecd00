// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "core/file/study_file.hpp"
#include "solver/findings/findings.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

namespace {

std::vector<std::string> samples() {
    std::vector<std::string> all;
    for (const auto& entry : std::filesystem::directory_iterator(in_tree("samples")))
        if (entry.path().extension() == ".wallfoot") all.push_back(entry.path());
    std::sort(all.begin(), all.end());
    return all;
}

double headline(const Study& study, const std::string& variant) {
    const auto found = find(study, *study.find_variant(variant));
    return found->headline_psi()->value.value().value;
}

}  // namespace

TEST(Samples, AreInTheFormTheProgramWrites) {
    ASSERT_GE(samples().size(), 4u);
    for (const auto& path : samples()) {
        std::ifstream file(path, std::ios::binary);
        const std::string text{std::istreambuf_iterator<char>(file), {}};
        const auto read = read_study(text);
        EXPECT_TRUE(read.warnings.empty()) << path << ": " << one_line(read.warnings.front(), path);
        EXPECT_TRUE(write_study(read.study) == text) << path << " is not as the program would save it";
    }
}

TEST(Samples, AreSolvedWithoutFaultOrGap) {
    for (const auto& path : samples()) {
        const auto study = load_study(path).study;
        for (const auto& variant : study.variants) {
            const auto found = find(study, variant);
            EXPECT_FALSE(found->has_fault()) << path << " " << variant.id;
            EXPECT_TRUE(found->converged) << path << " " << variant.id;
            for (const auto& face : found->conductivity) EXPECT_FALSE(face.undeclared) << path << " " << variant.id;
            ASSERT_NE(found->headline_psi(), nullptr) << path << " " << variant.id;
            EXPECT_TRUE(found->headline_psi()->value) << path << " " << variant.id;
        }
    }
}

// The order is common practice (no source): the better the block at the foot insulates, the smaller psi; a soaked
// block stands between the dry one and the aggregate block, and a forgotten edge strip costs.
TEST(Samples, PutTheBlocksInOrder) {
    const std::string folder = in_tree("samples/");
    const auto below = load_study(folder + "slab-insulation-below.wallfoot").study;
    EXPECT_LT(headline(below, "foam"), headline(below, "soaked"));
    EXPECT_LT(headline(below, "soaked"), headline(below, "aggregate"));
    const auto above = load_study(folder + "slab-insulation-above.wallfoot").study;
    EXPECT_LT(headline(above, "foam"), headline(above, "aggregate"));
    EXPECT_LT(headline(above, "aggregate"), headline(above, "no-strip"));
    const auto floor = load_study(folder + "suspended-beam-floor.wallfoot").study;
    EXPECT_LT(headline(floor, "foam"), headline(floor, "light"));
    EXPECT_LT(headline(floor, "light"), headline(floor, "aggregate"));
}

// A wall alone has no junction: exact.
TEST(Samples, PlainWallHasNoPsi) {
    const auto study = load_study(in_tree("samples/plain-wall.wallfoot")).study;
    for (const auto& variant : study.variants) EXPECT_NEAR(headline(study, variant.id), 0, 1e-8) << variant.id;
}
