// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "solver/field/scalar_problem.hpp"

namespace wallfoot {

/// Both bounding energies of all unit loads and their difference as a sum of local, non-negative terms
/// (Prager–Synge identity): K^L ≤ K ≤ K^U as quadratic forms, G = K^U − K^L. Row-major contacts × contacts, W/(m·K).
struct Energies {
    std::vector<double> upper, lower, gap;
    /// local[k][t]: G_kk of triangle t (with its boundary edges), W/(m·K).
    std::vector<std::vector<double>> local;
    /// gap_counted[k]: G_kk over the triangles that are not left out.
    std::vector<double> gap_counted;
};

/// `temperature[k]`, `stream[k]`: hierarchical coefficients per triangle under the unit load of contact k, for all contacts.
/// `completed`: contact whose fields are what the others leave of the constant 1 (none: -1); its row of the matrices then
/// follows from zero row sums. `left_out`: triangles whose gap does not count (near two touching fixed temperatures). Summed in triangle order.
Energies energies(const Mesh& mesh, const std::vector<std::vector<Quadratic>>& temperature,
                  const std::vector<std::vector<Quadratic>>& stream, const std::vector<char>& left_out, int completed = -1);

}  // namespace wallfoot
