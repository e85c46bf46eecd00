// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>

#include "core/file/study_file.hpp"
#include "solver/findings/findings.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

// Samples computed a second time by a general-purpose finite-element package: FreeFEM 4.11 (Debian 12), P2 on graded
// rectangles split in two, by section_to_mesh.py and solve.edp beside this file. The study file is read there by code
// of its own: pieces point-wise, airspace 0.18 m²·K/W, distances beyond the cut measured from plaster, outer face and
// ground. Three meshes each (smallest cell mm / growth: 8 / 2, 2 / 1.6, 0.5 / 1.4); the finest is recorded, its stated
// error is the change from the middle one, which is several times what is left.
namespace {

struct Recorded {
    const char* a;
    const char* b;
    double coarse, middle, fine;  // L2D, W/(m·K)
    double error() const { return std::abs(fine - middle); }
};

struct Lowest {
    Purpose purpose;
    double middle, fine;  // lowest temperature at a node of the inside surface, °C
};

struct Case {
    const char* sample;
    const char* variant;
    int unknowns;  // of the finest mesh
    std::vector<Recorded> couplings;
    std::vector<Lowest> lowest;
};

const std::vector<Case> cases = {
    {"slab-insulation-below", "foam", 242629,
     {{"in", "out", 1.00236063, 1.0022595, 1.00223727}},
     {{Purpose::heat_flow, 18.5055397, 18.5031184}, {Purpose::surface_check, 17.7291055, 17.7263891}}},
    {"slab-insulation-above", "aggregate", 273133,
     {{"in", "out", 1.13684432, 1.13662536, 1.13658457}},
     {{Purpose::heat_flow, 15.834947, 15.8304075}, {Purpose::surface_check, 14.202564, 14.1993431}}},
    {"suspended-beam-floor", "foam", 227533,
     {{"in", "out", 0.3735792, 0.373562378, 0.373559364},
      {"in", "void", 0.874077227, 0.874030439, 0.874022849},
      {"void", "out", 1.89016958, 1.88964557, 1.8895328}},
     {{Purpose::heat_flow, 18.2507253, 18.2480235}, {Purpose::surface_check, 17.3582588, 17.3558123}}},
};

class SecondPackage : public testing::TestWithParam<Case> {};

}  // namespace

TEST_P(SecondPackage, GivesTheSame) {
    const auto& c = GetParam();
    const auto study = load_study(in_tree("samples/" + std::string(c.sample) + ".wallfoot")).study;
    FindingsOptions options;
    options.tolerance = 2e-5;
    const auto found = find(study, *study.find_variant(c.variant), options);
    ASSERT_FALSE(found->has_fault());
    const auto& spaces = found->section->spaces;
    for (const auto& recorded : c.couplings) {
        int seen = 0;
        for (const auto& coupling : found->couplings) {
            const auto &a = spaces[coupling.a].id, &b = spaces[coupling.b].id;
            if (!((a == recorded.a && b == recorded.b) || (a == recorded.b && b == recorded.a))) continue;
            ++seen;
            ASSERT_TRUE(coupling.value) << coupling.reason;
            // What is left of the package's error lies within the change it stated: our bracket must meet that interval.
            EXPECT_LE(coupling.value->lower, recorded.fine + recorded.error()) << a << " " << b;
            EXPECT_GE(coupling.value->upper, recorded.fine - recorded.error()) << a << " " << b;
            EXPECT_LT(coupling.value->width(), 2e-4) << a << " " << b;
        }
        EXPECT_EQ(seen, 1) << recorded.a << " " << recorded.b;
    }
    for (const auto& lowest : c.lowest) {
        const SurfaceFinding* ours = nullptr;
        for (const auto& s : found->surface)
            if (spaces[s.space].kind == SpaceKind::inside && s.purpose == lowest.purpose) ours = &s;
        ASSERT_NE(ours, nullptr);
        ASSERT_TRUE(ours->fRsi);
        const double kelvin = 20 - 0;  // of the samples: the estimate speaks of fRsi
        EXPECT_NEAR(ours->lowest, lowest.fine, std::abs(lowest.fine - lowest.middle) + ours->estimate * kelvin);
    }
}

INSTANTIATE_TEST_SUITE_P(Samples, SecondPackage, testing::ValuesIn(cases), [](const auto& info) {
    std::string name = info.param.sample;
    std::erase(name, '-');
    return name;
});
