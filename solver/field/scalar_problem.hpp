// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "solver/field/numbering.hpp"

namespace wallfoot {

/// Hierarchical quadratic on a triangle: three corner values, then the bubbles 4 L_j L_k of the opposite edges.
using Quadratic = std::array<double, 6>;

/// A boundary edge's part in the matrix and the right side. h = length in m; a → b anticlockwise along the triangle.
struct EdgeTerm {
    int triangle = 0, corner = 0;
    double mass = 0;       ///< × mass matrix of the edge (per m)
    double stiffness = 0;  ///< × stiffness matrix of the edge (m)
    int load = -1;         ///< contact whose unit load acts here
    std::array<double, 3> load_a_b_bubble{};  ///< right side under that unit load
};

/// A symmetric second-order problem −div(c grad u) in the hierarchical quadratic basis: used for the temperature and for
/// the stream function alike. Builds the sparse matrix once, factors it (LDLᵀ, no further ordering), solves all loads.
/// Bases and matrices: hierarchical P2, exact integration of polynomials.
class ScalarProblem {
  public:
    /// `coefficient[r]`: c along x and y in region r.
    ScalarProblem(const Mesh& mesh, const Numbering& numbering, const std::vector<std::array<double, 2>>& coefficient,
                  std::vector<EdgeTerm> edges);
    /// Solution under the unit load of each contact in `loads`. Throws std::logic_error when the factorisation fails.
    std::vector<std::vector<Quadratic>> solve(const std::vector<int>& loads) const;

  private:
    const Mesh& mesh_;
    const Numbering& numbering_;
    const std::vector<std::array<double, 2>>& coefficient_;
    std::vector<EdgeTerm> edges_;
};

/// The two problems of NUMERICS: temperature (c = λ, mass 1/R) and stream function (c = 1/λ turned, stiffness R).
std::vector<EdgeTerm> temperature_edges(const Mesh& mesh);
std::vector<EdgeTerm> stream_edges(const Mesh& mesh);
std::vector<std::array<double, 2>> temperature_coefficients(const Mesh& mesh);
std::vector<std::array<double, 2>> stream_coefficients(const Mesh& mesh);

}  // namespace wallfoot
