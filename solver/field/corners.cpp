// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/corners.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace wallfoot {

Corners::Corners(int corners, int jumps)
    : jumps_(jumps), parent_(corners), weight_(static_cast<std::size_t>(corners) * jumps, 0) {
    std::iota(parent_.begin(), parent_.end(), 0);
}

int Corners::root(int corner) {
    int r = corner;
    while (parent_[r] != r) r = parent_[r];
    if (jumps_ == 0) {
        while (parent_[corner] != r) {
            const int up = parent_[corner];
            parent_[corner] = r;
            corner = up;
        }
        return r;
    }
    std::vector<int> way;
    for (int c = corner; parent_[c] != r && c != r; c = parent_[c]) way.push_back(c);
    // From the root down: the parent of each is already tied to the root, so its weight is complete.
    for (auto it = way.rbegin(); it != way.rend(); ++it) {
        const int up = parent_[*it];
        for (int k = 0; k < jumps_; ++k) w(*it, k) += w(up, k);
        parent_[*it] = r;
    }
    return r;
}

void Corners::join(int a, int b, int k, int sign) {
    const int ra = root(a), rb = root(b);
    // value(ra) = value(a) - w(a) = value(b) + sign J_k - w(a) = value(rb) + w(b) + sign J_k - w(a)
    std::vector<int> difference(jumps_, 0);
    for (int j = 0; j < jumps_; ++j) difference[j] = w(b, j) - w(a, j) + (j == k ? sign : 0);
    if (ra == rb) {
        if (std::any_of(difference.begin(), difference.end(), [](int d) { return d != 0; })) relations_.push_back(difference);
        return;
    }
    parent_[ra] = rb;
    for (int j = 0; j < jumps_; ++j) w(ra, j) = difference[j];
}

int Corners::weight(int corner, int k) {
    root(corner);
    return w(corner, k);
}

std::vector<std::vector<double>> Corners::free_jumps() const {
    std::vector<std::vector<double>> rows;
    std::vector<int> pivot_row(jumps_, -1);
    for (const auto& relation : relations_) {
        std::vector<double> row(relation.begin(), relation.end());
        for (int j = 0; j < jumps_; ++j) {
            if (pivot_row[j] < 0) continue;
            const double f = row[j];
            for (int k = 0; k < jumps_; ++k) row[k] -= f * rows[pivot_row[j]][k];
        }
        int p = 0;
        while (p < jumps_ && std::abs(row[p]) < 1e-9) ++p;
        if (p == jumps_) continue;
        const double f = row[p];
        for (double& x : row) x /= f;
        for (auto& other : rows) {
            const double g = other[p];
            for (int k = 0; k < jumps_; ++k) other[k] -= g * row[k];
        }
        pivot_row[p] = static_cast<int>(rows.size());
        rows.push_back(row);
    }
    std::vector<std::vector<double>> basis(jumps_);
    for (int f = 0; f < jumps_; ++f) {
        if (pivot_row[f] >= 0) continue;
        for (int j = 0; j < jumps_; ++j)
            basis[j].push_back(j == f ? 1.0 : (pivot_row[j] >= 0 ? -rows[pivot_row[j]][f] : 0.0));
    }
    return basis;
}

}  // namespace wallfoot
