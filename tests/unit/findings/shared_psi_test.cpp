// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "core/details/detail.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

Study party_wall() { return make_study(starter_details().get("party-wall-foot"), {}); }

Study shared_by(Study study, std::optional<DwellingShare> share) {
    study.conventions.at(study.convention).dwelling_share = share;
    return study;
}

}  // namespace

TEST(SharedPsi, AMirrorSymmetricFootIsSharedEqually) {
    for (const auto share : {std::optional<DwellingShare>{}, std::optional(DwellingShare::half)}) {
        const Study study = shared_by(party_wall(), share);
        const auto f = find(study, study.variants.front());
        ASSERT_EQ(f->shared.size(), 2u);
        for (const SharedPsi& shared : f->shared) {
            EXPECT_NEAR(shared.sides[0].enter.value, shared.sides[1].enter.value, 1e-9);
            EXPECT_NEAR(shared.sides[0].enter.value + shared.sides[1].enter.value, shared.total.value, 1e-12);
            // What each side has by itself is found on a mesh that need not be symmetric: alike inside the bounds.
            EXPECT_LE(shared.sides[0].psi.lower, shared.sides[1].psi.upper);
            EXPECT_LE(shared.sides[1].psi.lower, shared.sides[0].psi.upper);
        }
        EXPECT_TRUE(says(*f, "shared-half"));
    }
}

TEST(SharedPsi, EachItsOwnSideWhereTheConventionSaysSo) {
    Study study = shared_by(party_wall(), DwellingShare::by_side);
    const auto f = find(study, study.variants.front());
    ASSERT_FALSE(f->shared.empty());
    const SharedPsi& shared = f->shared.front();
    EXPECT_EQ(shared.lengths, study.used_convention().lengths);
    for (const auto& side : shared.sides) EXPECT_EQ(side.enter.value, side.psi.value);
    EXPECT_NEAR(shared.sides[0].psi.value + shared.sides[1].psi.value, shared.total.value, 1e-12);
    EXPECT_LE(shared.total.lower, shared.total.value);
    EXPECT_GE(shared.total.upper, shared.total.value);
    EXPECT_TRUE(says(*f, "shared-by-side"));
    bool explained = false;
    for (const Derivation& d : f->derivations) explained |= d.of == "psi of both dwellings, internal";
    EXPECT_TRUE(explained);
}

TEST(SharedPsi, OnlyWhereTwoDwellingsMeet) {
    Study study = party_wall();
    Section section = *study.variants.front().section;
    for (Space& space : section.spaces) space.side.clear();
    Variant variant = study.variants.front();
    variant.section = std::make_shared<Section>(section);
    EXPECT_TRUE(find(study, variant)->shared.empty());
    EXPECT_TRUE(junction({}).solved()->shared.empty());
}
