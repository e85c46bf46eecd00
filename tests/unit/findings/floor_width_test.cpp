// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "core/file/quantities.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

std::shared_ptr<const Findings> with_widths(const Study& study) {
    FindingsOptions options;
    options.floor_widths = true;
    return find(study, study.variants.front(), options);
}

Study foot_study() { return load_study(in_tree("samples/slab-insulation-below.wallfoot")).study; }

}  // namespace

// B′ = A/(0.5·P): 60/(0.5·20) = 6 m. The whole junction is that of a floor 6 m wide, not the floor's share alone.
TEST(FloorWidth, ItsOwnIsWorkedOutAsIfTheFloorWereThatWide) {
    Study study = set_ground_floor(foot_study(), GroundFloor{60, 20});
    const auto f = with_widths(study);
    ASSERT_EQ(f->floor_widths.size(), 1u);
    const FloorWidthPsi& at = f->floor_widths[0];
    EXPECT_TRUE(at.own);
    EXPECT_DOUBLE_EQ(at.width, 6);
    study.floor_width = 6'000'000;
    const auto narrow = find(study, study.variants.front());
    ASSERT_TRUE(at.second_section && at.by_iso13370);
    EXPECT_DOUBLE_EQ(at.second_section->value, psi_of(*narrow, LengthSystem::internal).value->value);
    EXPECT_DOUBLE_EQ(at.by_iso13370->value, psi_of(*narrow, LengthSystem::internal).by_iso13370->value);
    // A narrower floor loses more by its edge in the option by ISO 13370; what it is beside the convention's stays told.
    EXPECT_NE(at.by_iso13370->value, psi_of(*f, LengthSystem::internal).by_iso13370->value);
    int explained = 0;
    for (const Derivation& d : f->derivations)
        if (d.of.ends_with("floor with its own B′ 6.000 m")) {
            ++explained;
            EXPECT_EQ(d.inputs.at(0).value, 60);
            EXPECT_EQ(d.inputs.at(1).value, 20);
        }
    EXPECT_EQ(explained, 2);
}

TEST(FloorWidth, TheConventionsStandsBesideOneThatTheStudyStates) {
    Study study = foot_study();
    study.floor_width = 6'000'000;
    const auto f = with_widths(study);
    ASSERT_EQ(f->floor_widths.size(), 1u);
    EXPECT_FALSE(f->floor_widths[0].own);
    EXPECT_DOUBLE_EQ(f->floor_widths[0].width, 8);
    study.floor_width = 8'000'000;
    EXPECT_TRUE(with_widths(study)->floor_widths.empty());
    EXPECT_TRUE(with_widths(set_ground_floor(study, GroundFloor{80, 20}))->floor_widths.empty());  // B′ is that width
}

TEST(FloorWidth, IsNotToldWhereTheDrawingDoesNotFollowIt) {
    const auto f = with_widths(set_ground_floor(junction({}).study(), GroundFloor{60, 20}));
    ASSERT_EQ(f->floor_widths.size(), 1u);
    EXPECT_FALSE(f->floor_widths[0].second_section);
    EXPECT_EQ(f->floor_widths[0].reason, "floor-width-not-followed");
    EXPECT_TRUE(says(*f, "floor-width-not-followed"));
    EXPECT_TRUE(with_widths(plane_wall().study())->floor_widths.empty());
}

TEST(FloorWidth, CountsInTheHashOfTheInput) {
    const Study study = foot_study();
    const auto hash = [](const Study& of) { return input_hash(of, of.variants.front()); };
    EXPECT_NE(hash(study), hash(set_ground_floor(study, GroundFloor{60, 20})));
    EXPECT_EQ(hash(study), hash(set_ground_floor(set_ground_floor(study, GroundFloor{60, 20}), std::nullopt)));
}
