// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "core/dwelling/dwelling_file.hpp"
#include "core/file/whole_file.hpp"
#include "solver/dwelling/update.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

TEST(DwellingSample, IsAsTheProgramWritesItAndUpToDate) {
    const std::string text = read_whole(in_tree("samples/fernbeck-plot-four.dwelling"));
    const auto read = read_dwelling(text);
    EXPECT_TRUE(read.warnings.empty());
    EXPECT_TRUE(write_dwelling(read.dwelling) == text) << "not as the program would save it";
    const Balance sums = balance(read.dwelling, studies_now(read.dwelling, in_tree("samples")));
    EXPECT_EQ(sums.out_of_date, 0u);
    EXPECT_EQ(sums.open_rows, 0u);
    EXPECT_EQ(sums.open_kinds, (std::vector<std::string>{"threshold", "sill"})) << "left open on purpose";
    ASSERT_EQ(sums.measures.size(), 1u);
    EXPECT_FALSE(sums.measures[0].out_of_date);
    ASSERT_TRUE(sums.measures[0].loss);
    EXPECT_GT(sums.measures[0].loss->low, 0);

    // Solved again, its rows give what the file holds.
    const Updated again = update_dwelling(read.dwelling, in_tree("samples"), "2026-11-26");
    EXPECT_TRUE(again.troubles.empty());
    EXPECT_TRUE(again.reached);
    for (std::size_t j = 0; j < read.dwelling.junctions.size(); ++j) {
        const auto* before = std::get_if<FromStudy>(&read.dwelling.junctions[j].value);
        if (!before) continue;
        const auto& now = *std::get<FromStudy>(again.dwelling.junctions[j].value).last;
        EXPECT_EQ(now.input_hash, before->last->input_hash);
        EXPECT_NEAR(now.psi, before->last->psi, 1e-6);
    }
}

}  // namespace
}  // namespace wallfoot
