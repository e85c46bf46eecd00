// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "solver/field/factor.hpp"

namespace wallfoot {

/// One bubble's row of the matrix. An edge has two triangles at most, so it meets four other bubbles and four corners
/// (its two ends and the two opposite); an empty place has number 0 and value 0.
struct BubbleRow {
    double diagonal = 0;
    std::array<int, 4> bubble{}, corner{};
    std::array<double, 4> to_bubble{}, to_corner{};
    int triangles = 0;  ///< met so far while the matrix is put together
};

/// What a bubble and a jump unknown share: there are few.
struct JumpEntry {
    int bubble, corner;
    double value;
};

/// Symmetric matrix of a scalar problem in blocks of corner unknowns and edge bubbles (hierarchical basis).
struct Blocks {
    UpperTriangle corners;
    std::vector<BubbleRow> bubbles;
    std::vector<JumpEntry> jumps;
};

/// A vector over both kinds of unknown.
struct BlockVector {
    std::vector<double> corners, bubbles;
};

/// Conjugate gradients with two levels: the corner block solved by its factors, Gauss–Seidel over the bubbles before and
/// after. Stops when rᵀMr, an estimate of the squared energy of the error, is at most `error`. The bounds hold for
/// whatever comes out; the error only widens them. Begins with the solution by corners alone; then the heat flows read off
/// the result balance and agree with its energy. Or at `begin`, the solution of a similar matrix, whose factors do as well.
BlockVector two_level_solve(const Blocks& blocks, const Factor& corner_factor, const BlockVector& right, double error,
                            const BlockVector* begin = nullptr);

}  // namespace wallfoot
