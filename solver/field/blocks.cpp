// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/blocks.hpp"

#include <algorithm>

namespace wallfoot {

namespace {

constexpr int most_iterations = 60;  // many more than ever seen; what is left shows in the bracket
constexpr double round_off = 1e-24;  // × energy: below it an error cannot be told from round-off

double dot(const std::vector<double>& a, const std::vector<double>& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

double dot(const BlockVector& a, const BlockVector& b) { return dot(a.corners, b.corners) + dot(a.bubbles, b.bubbles); }

void add(BlockVector& to, double factor, const BlockVector& what) {
    for (std::size_t i = 0; i < to.corners.size(); ++i) to.corners[i] += factor * what.corners[i];
    for (std::size_t i = 0; i < to.bubbles.size(); ++i) to.bubbles[i] += factor * what.bubbles[i];
}

void multiply(const Blocks& m, const BlockVector& x, BlockVector& y) {
    std::fill(y.corners.begin(), y.corners.end(), 0.0);
    for (int c = 0; c < m.corners.size; ++c) {
        double sum = 0;
        const double xc = x.corners[c];
        for (int k = m.corners.start[c]; k < m.corners.start[c + 1]; ++k) {
            const int r = m.corners.row[k];
            sum += m.corners.value[k] * x.corners[r];
            if (r != c) y.corners[r] += m.corners.value[k] * xc;
        }
        y.corners[c] += sum;
    }
    for (std::size_t b = 0; b < m.bubbles.size(); ++b) {
        const auto& row = m.bubbles[b];
        const double xb = x.bubbles[b];
        double sum = row.diagonal * xb;
        for (int k = 0; k < 4; ++k) {
            sum += row.to_bubble[k] * x.bubbles[row.bubble[k]] + row.to_corner[k] * x.corners[row.corner[k]];
            y.corners[row.corner[k]] += row.to_corner[k] * xb;
        }
        y.bubbles[b] = sum;
    }
    for (const auto& j : m.jumps) {
        y.bubbles[j.bubble] += j.value * x.corners[j.corner];
        y.corners[j.corner] += j.value * x.bubbles[j.bubble];
    }
}

/// z = M r: Gauss–Seidel over the bubbles forwards, the corners exactly, Gauss–Seidel backwards.
void precondition(const Blocks& m, const Factor& corner_factor, const BlockVector& r, BlockVector& z) {
    const int bubbles = static_cast<int>(m.bubbles.size());
    z.corners = r.corners;
    for (int b = 0; b < bubbles; ++b) {
        const auto& row = m.bubbles[b];
        double sum = r.bubbles[b];
        for (int k = 0; k < 4; ++k)
            if (row.bubble[k] < b) sum -= row.to_bubble[k] * z.bubbles[row.bubble[k]];
        const double value = sum / row.diagonal;
        z.bubbles[b] = value;
        for (int k = 0; k < 4; ++k) z.corners[row.corner[k]] -= row.to_corner[k] * value;
    }
    for (const auto& j : m.jumps) z.corners[j.corner] -= j.value * z.bubbles[j.bubble];
    if (m.corners.size > 0) corner_factor.solve(z.corners.data());
    std::vector<double> from_jumps(m.jumps.empty() ? 0 : bubbles, 0.0);
    for (const auto& j : m.jumps) from_jumps[j.bubble] += j.value * z.corners[j.corner];
    for (int b = bubbles - 1; b >= 0; --b) {
        const auto& row = m.bubbles[b];
        double sum = r.bubbles[b] - (from_jumps.empty() ? 0.0 : from_jumps[b]);
        for (int k = 0; k < 4; ++k)
            sum -= row.to_bubble[k] * z.bubbles[row.bubble[k]] + row.to_corner[k] * z.corners[row.corner[k]];
        z.bubbles[b] = sum / row.diagonal;
    }
}

BlockVector zeros_like(const BlockVector& v) {
    return {std::vector<double>(v.corners.size(), 0.0), std::vector<double>(v.bubbles.size(), 0.0)};
}

/// Leaves a residual orthogonal to all corner functions, constants among them, and to the solution itself: the heat
/// flows of the spaces read off the field balance, and agree with its energy, however early the iteration stopped.
/// `corners`: the solution by corners alone; `from_corners`: the matrix times it.
void settle(const Blocks& m, const Factor& corner_factor, const BlockVector& right, const BlockVector& corners,
            const BlockVector& from_corners, BlockVector& x, BlockVector& r) {
    BlockVector step = zeros_like(right), change = step;
    step.corners = r.corners;
    if (m.corners.size > 0) corner_factor.solve(step.corners.data());
    multiply(m, step, change);
    add(x, 1, step);
    add(r, -1, change);
    // x less its corner part is orthogonal in energy to the corner functions: moving along it keeps what was reached.
    step = x;
    add(step, -1, corners);
    change = right;
    add(change, -1, r);
    add(change, -1, from_corners);
    const double energy = dot(step, change);
    if (energy > 0) add(x, dot(step, r) / energy, step);
}

}  // namespace

BlockVector two_level_solve(const Blocks& m, const Factor& corner_factor, const BlockVector& right, double error,
                            const BlockVector* begin) {
    BlockVector corners = zeros_like(right), from_corners = corners;
    if (!begin) {
        corners.corners = right.corners;
        if (m.corners.size > 0) corner_factor.solve(corners.corners.data());
    }
    BlockVector x = begin ? *begin : corners, r = right, z = corners, p = corners, q = corners;
    multiply(m, x, q);
    if (!begin) from_corners = q;
    error = std::max(error, round_off * dot(right, x));
    add(r, -1, q);
    double before = 0;
    for (int i = 0; i < most_iterations; ++i) {
        precondition(m, corner_factor, r, z);
        const double size = dot(r, z);
        if (!(size > error)) break;
        const double beta = i == 0 ? 0 : size / before;
        for (std::size_t k = 0; k < p.corners.size(); ++k) p.corners[k] = z.corners[k] + beta * p.corners[k];
        for (std::size_t k = 0; k < p.bubbles.size(); ++k) p.bubbles[k] = z.bubbles[k] + beta * p.bubbles[k];
        before = size;
        multiply(m, p, q);
        const double alpha = size / dot(p, q);
        add(x, alpha, p);
        add(r, -alpha, q);
    }
    if (!begin) settle(m, corner_factor, right, corners, from_corners, x, r);
    return x;
}

}  // namespace wallfoot
