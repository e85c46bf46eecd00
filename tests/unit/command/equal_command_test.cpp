// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "tests/unit/command/command_fixture.hpp"
#include "tests/unit/tree.hpp"

namespace {

class EqualCommand : public wallfoot::CommandTest {
  protected:
    static std::string begin() { return "equal " + wallfoot::in_tree("samples/slab-insulation-below.wallfoot") + " --to foam --variant aggregate"; }
};

TEST_F(EqualCommand, SaysWhereBothMeasuresAreAsGoodAndWhatHeatDoesNotDecide) {
    const auto ran = run(begin() + " --piece foot-above --piece foot-below --by both");
    ASSERT_EQ(ran.status, 0) << ran.err;
    for (const char* said : {"to reach: psi", "to reach: fRsi", "as good from 0.020", "What heat does not decide", "strength 7.3 N/mm²"})
        EXPECT_NE(ran.out.find(said), std::string::npos) << said << "\n" << ran.out;
}

TEST_F(EqualCommand, SaysThatItIsNotReachableAndWhatTheDrawingDoesNotAllow) {
    const auto ran = run(begin() + " --membrane dpm --side right --from 1600 --to-most 1900");
    ASSERT_EQ(ran.status, 0) << ran.err;
    EXPECT_NE(ran.out.find("not reachable"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("the drawing does not allow"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("A membrane is a plane"), std::string::npos) << ran.out;
}

TEST_F(EqualCommand, SaysWhatItCannotUse) {
    for (const char* wrong : {"", " --piece nothing", " --measure nothing", " --extent foot-above", " --piece foot-above --side left", " --piece foot-above --membrane dpm --side left", " --membrane dpm --side under",
                              " --piece foot-above --from 1", " --piece foot-above --from 2 --to-most 1", " --piece foot-above --by heat"}) {
        const auto ran = run(begin() + wrong);
        EXPECT_EQ(ran.status, 2) << wrong << "\n" << ran.out;
        EXPECT_FALSE(ran.err.empty()) << wrong;
    }
}

}  // namespace
