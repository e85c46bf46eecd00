// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/bracket/kept_mesh.hpp"

#include <gtest/gtest.h>

#include "solver/bracket/reduced_basis.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

/// Three spaces; the block where the floor meets the wall has conductivity `block`, the room surface resistance `room`.
Model with_block(double block, double room = 0.13) {
    return model_of({{0, 0, 300, 2600, 0.4}, {300, 1200, 2000, 1400, 1.2}, {0, -600, 300, 0, 1.5}, {0, 1200, 300, 1400, block}}, 3,
                    [&](double x, double y, int nx, int ny) {
                        if (nx < 0 && x == 0) return std::pair{2, 0.04};
                        if (nx > 0 && x == 300) return y > 1400 ? std::pair{0, room} : y < 1200 ? std::pair{1, 0.11} : std::pair{-1, 0.0};
                        if (ny > 0 && y == 1400) return std::pair{0, 0.17};
                        if (ny < 0 && y == 1200) return std::pair{1, 0.10};
                        return std::pair{-1, 0.0};
                    });
}

SolveOptions within(double tolerance) {
    SolveOptions options;
    options.tolerance = tolerance;
    return options;
}

const std::vector<std::pair<int, int>> pairs{{0, 1}, {0, 2}, {1, 2}};

TEST(KeptMesh, SameInputsGiveTheSameBracketAgain) {
    const KeptMesh kept(with_block(0.2), within(1e-5));
    const auto again = kept.solve_again(with_block(0.2));
    for (const auto& [a, b] : pairs) {
        EXPECT_NEAR(again.coupling(a, b).value, kept.solution().coupling(a, b).value, 1e-6);
        EXPECT_LT(again.coupling(a, b).width(), 1.05 * kept.solution().coupling(a, b).width());
    }
}

// The value of a much finer solve lies in the bracket of the kept mesh, which stays narrow after a large change.
TEST(KeptMesh, OtherInputsAreBracketed) {
    const KeptMesh kept(with_block(0.2), within(1e-4));
    for (const auto& [block, room] : {std::pair{0.05, 0.13}, {0.5, 0.13}, {2.0, 0.25}}) {
        const auto other = with_block(block, room);
        const auto again = kept.solve_again(other);
        const auto fine = solve(other, within(1e-5));
        for (const auto& [a, b] : pairs) {
            EXPECT_LE(again.coupling(a, b).lower, fine.coupling(a, b).upper) << block;
            EXPECT_GE(again.coupling(a, b).upper, fine.coupling(a, b).lower) << block;
            EXPECT_LT(again.coupling(a, b).width(), 1e-3) << block;
        }
    }
}

TEST(KeptMesh, OtherGeometryDoesNotFit) {
    const KeptMesh kept(with_block(0.2), within(1e-3));
    EXPECT_TRUE(kept.inputs_of(with_block(0.7, 0.2)));
    EXPECT_FALSE(kept.inputs_of(with_block(0.4))) << "the block has merged with the wall";
    EXPECT_FALSE(kept.inputs_of(with_block(0.2, 0.0))) << "a fixed temperature numbers the mesh otherwise";
    EXPECT_FALSE(kept.inputs_of(wall_foot(1.3)));
    EXPECT_THROW(kept.solve_again(wall_foot(1.3)), std::logic_error);
}

// Every combination of admissible fields is admissible: the bracket holds for any input, and between the solved variants
// it is nearly as narrow as theirs.
TEST(ReducedBasis, BracketsEveryValueOfASlider) {
    const KeptMesh kept(with_block(0.2), within(1e-5));
    const ReducedBasis basis(kept, {*kept.inputs_of(with_block(0.1)), *kept.inputs_of(with_block(0.39)), *kept.inputs_of(with_block(0.2, 0.2))});
    for (const auto& [block, room] : {std::pair{0.2, 0.13}, {0.1, 0.13}, {0.14, 0.13}, {0.28, 0.13}, {0.2, 0.16}, {3.0, 0.13}, {0.01, 0.4}}) {
        const auto other = with_block(block, room);
        const auto value = basis.couplings(*kept.inputs_of(other));
        const auto fine = solve(other, within(1e-5));
        const bool inside = block >= 0.1 && block <= 0.4 && room < 0.2;
        for (const auto& [a, b] : pairs) {
            EXPECT_LE(value.coupling(a, b).lower, fine.coupling(a, b).upper) << block;
            EXPECT_GE(value.coupling(a, b).upper, fine.coupling(a, b).lower) << block;
            if (inside) {
                EXPECT_LT(value.coupling(a, b).width(), 1e-4) << block;
            }
        }
    }
}

TEST(ReducedBasis, FixedTemperaturesAndSpacesInside) {
    const auto ring = [](double k) {
        return model_of({{0, 0, 1000, 1000, k}, {0, 0, 1000, 300, 0.9}, {400, 400, 600, 600, -1}}, 2, [](double x, double y, int, int) {
            const bool rim = x == 0 || x == 1000 || y == 0 || y == 1000;
            return std::pair{rim ? 0 : 1, rim ? 0.0 : 0.1};
        });
    };
    const KeptMesh kept(ring(0.3), within(1e-3));
    const ReducedBasis basis(kept, {*kept.inputs_of(ring(0.6))});
    for (const double k : {0.3, 0.45, 0.6, 1.5}) {
        const auto value = basis.couplings(*kept.inputs_of(ring(k))).coupling(0, 1), fine = solve(ring(k), within(1e-5)).coupling(0, 1);
        EXPECT_LE(value.lower, fine.upper) << k;
        EXPECT_GE(value.upper, fine.lower) << k;
        if (k < 1) {
            EXPECT_LT(value.width(), 0.02) << k;
        }
    }
}

}  // namespace
}  // namespace wallfoot::test
