// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

namespace wallfoot {

/// Union-find over triangle corners with integer weights: value(corner) = value(root) + Σ weight_k J_k.
class Corners {
  public:
    Corners(int corners, int jumps);
    int root(int corner);
    /// value(a) = value(b) + sign·J_k (k < 0: equal). A closed circle that does not add up is a relation Σ r_k J_k = 0.
    void join(int a, int b, int k = -1, int sign = 0);
    int weight(int corner, int k);
    /// Basis of the jumps that satisfy all relations: J_k = Σ_z basis[k][z]·z (Gauss–Jordan; there are few holes).
    std::vector<std::vector<double>> free_jumps() const;

  private:
    int& w(int c, int k) { return weight_[static_cast<std::size_t>(c) * jumps_ + k]; }
    int jumps_;
    std::vector<int> parent_, weight_;
    std::vector<std::vector<int>> relations_;
};

}  // namespace wallfoot
