// SPDX-License-Identifier: GPL-3.0-or-later
// Slopes of psi, L2D and fRsi with the inputs, against what follows from their definitions and against differences of
// whole runs of the program.
#include <cmath>
#include <numeric>

#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

FindingsOptions with_slopes(double tolerance) {
    FindingsOptions options;
    options.tolerance = tolerance;
    options.slopes = true;
    return options;
}

template <class Read>
double euler_sum(const Findings& f, Read&& read) {
    double sum = 0;
    for (const auto& input : f.slopes)
        if (const auto slope = read(input)) sum += input.space < 0 ? *slope : -*slope;
    return sum;
}

std::optional<double> value_of(const std::optional<Slope>& slope) {
    return slope ? std::optional(slope->value) : std::nullopt;
}

/// The input that a material is part of in the junction draft, whose piece ids begin with the material's.
const InputSlope& of_material(const Findings& f, const std::string& material) {
    for (const auto& input : f.slopes)
        for (const int piece : input.pieces)
            if (f.section->pieces[piece].filled_with == material) return input;
    throw std::logic_error("no input of " + material);
}

std::shared_ptr<const Findings> changed(const std::string& material, double factor) {
    auto study = junction({.below_dpc = 0.4, .first_course = 0.15, .inside = 20, .outside = 0}).study();
    for (auto& m : study.materials)
        if (m.id == material)
            for (auto& [condition, value] : m.lambda.by_condition) value.value *= factor;
    FindingsOptions options;
    options.tolerance = 1e-6;
    return find(study, study.variants.front(), options);
}

}  // namespace

// Euler's identity for homogeneous functions: L2D, every U·l and the floor alone grow in proportion when all
// conductivities grow and all resistances fall alike, so psi does; a temperature stays.
TEST(Slopes, AddUpToPsiAndToNothingForTheTemperature) {
    for (const bool mirrored : {false, true}) {
        const auto f = junction({.below_dpc = 0.4, .first_course = 0.15, .inside = 20, .mirrored = mirrored}).solved(with_slopes(1e-4));
        ASSERT_FALSE(f->slopes.empty());
        for (std::size_t i = 0; i < f->psi.size(); ++i) {
            ASSERT_TRUE(f->psi[i].value);
            EXPECT_NEAR(euler_sum(*f, [&](const InputSlope& s) { return value_of(s.psi[i]); }), f->psi[i].value->value, 1e-8) << i;
        }
        EXPECT_NEAR(euler_sum(*f, [](const InputSlope& s) { return value_of(s.coupling[0]); }), f->couplings[0].value->value, 1e-8);
        // The mean is read off fields that are not the last digit's: its identity holds to the bracket of the fields.
        EXPECT_NEAR(euler_sum(*f, [](const InputSlope& s) { return value_of(s.surface); }), 0, 1e-6);
    }
}

TEST(Slopes, AgreeWithDifferencesOfWholeRuns) {
    const auto f = junction({.below_dpc = 0.4, .first_course = 0.15, .inside = 20}).solved(with_slopes(1e-6));
    constexpr double step = 0.02;
    for (const auto* material : {"z1", "board", "batts", "ground", "concrete"}) {
        SCOPED_TRACE(material);
        const auto more = changed(material, 1 + step), less = changed(material, 1 - step);
        const auto& input = of_material(*f, material);
        for (const auto lengths : {LengthSystem::internal, LengthSystem::external}) {
            const auto index = static_cast<std::size_t>(&psi_of(*f, lengths) - f->psi.data());
            const double difference = (psi_of(*more, lengths).value->value - psi_of(*less, lengths).value->value) / (2 * step);
            EXPECT_NEAR(input.psi[index]->value, difference, 2e-6 / (2 * step) + 0.002 * std::abs(difference));
        }
    }
}

// fRsi is known to some 1e-4 only, so over a wide step: the error of the difference is then about 0.002, a tenth of the slope.
TEST(Slopes, OfTheSurfaceAgreesWithAWideDifference) {
    const auto f = junction({.below_dpc = 0.4, .first_course = 0.15, .inside = 20}).solved(with_slopes(1e-4));
    constexpr double step = 0.3;
    const auto fRsi = [](const Findings& g) { return *surface_of(g, Purpose::surface_check).fRsi; };
    const double difference = (fRsi(*changed("z2", 1 + step)) - fRsi(*changed("z2", 1 - step))) / (2 * step);
    EXPECT_LT(difference, -0.01) << "a slope worth comparing";
    EXPECT_NEAR(of_material(*f, "z2").surface->value, difference, 0.003);
}

// A conductivity that L2D and the element hold alike: nothing of it is in psi of a plane wall.
TEST(Slopes, PlaneWallHasNone) {
    const auto f = plane_wall().solved(with_slopes(1e-4));
    ASSERT_EQ(f->slopes.size(), 6u) << "three layers, inside for the heat flow and for the surface check, and outside, the same for both";
    for (const auto& input : f->slopes)
        for (const auto& psi : input.psi)
            if (psi) { EXPECT_NEAR(psi->value, 0, 1e-10); }
}

TEST(Slopes, LargestEffectFirstAndOnlyWhenAsked) {
    const auto f = junction({.below_dpc = 0.4, .first_course = 0.15}).solved(with_slopes(1e-3));
    const auto headline = static_cast<std::size_t>(f->headline_psi() - f->psi.data());
    double before = 1e300;
    for (const auto& input : f->slopes) {
        const double size = input.psi[headline] ? std::abs(input.psi[headline]->value) : 0;
        EXPECT_LE(size, before);
        before = size;
    }
    EXPECT_TRUE(junction({}).solved()->slopes.empty());
}
