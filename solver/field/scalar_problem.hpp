// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "solver/field/blocks.hpp"
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

/// What a solve leaves for the next one on the same mesh.
struct KeptSolution {
    std::shared_ptr<const Factor> corner_factor;
    std::vector<BlockVector> solution;  ///< by load
};

/// A symmetric second-order problem −div(c grad u) in the hierarchical quadratic basis: used for the temperature and for
/// the stream function alike. Bases and matrices: hierarchical P2, exact integration of polynomials.
class ScalarProblem {
  public:
    /// `coefficient[r]`: c along x and y in region r. `edges`: sorted by triangle.
    ScalarProblem(const Mesh& mesh, const Numbering& numbering, std::vector<std::array<double, 2>> coefficient,
                  std::vector<EdgeTerm> edges);
    /// Solution under the unit load of each contact in `loads`. `errors`: how much squared energy (W/m per K², resp. its
    /// conjugate) the solver may leave in each; empty = solved exactly, for which all bubbles must be gathered. `kept`: filled when empty; else its factors and
    /// solutions, of other coefficients on the same mesh, serve as preconditioner and beginning.
    /// Throws std::logic_error for bubbles and no errors, InputFault (part-too-slender) when round-off makes a factorisation fail.
    std::vector<std::vector<Quadratic>> solve(const std::vector<int>& loads, const std::vector<double>& errors = {},
                                              KeptSolution* kept = nullptr) const;

  private:
    struct Assembled {
        Blocks blocks;
        std::vector<BlockVector> right;  ///< by load
    };
    Assembled assemble(const std::vector<int>& loads) const;
    std::vector<BlockVector> solve(const Assembled& assembled, const std::vector<double>& errors, KeptSolution* kept) const;
    std::vector<Quadratic> on_triangles(const BlockVector& x, int load) const;

    const Mesh& mesh_;
    const Numbering& numbering_;
    std::vector<std::array<double, 2>> coefficient_;
    std::vector<EdgeTerm> edges_;
};

/// The two problems of NUMERICS: temperature (c = λ, mass 1/R) and stream function (c = 1/λ turned, stiffness R).
std::vector<EdgeTerm> temperature_edges(const Mesh& mesh);
std::vector<EdgeTerm> stream_edges(const Mesh& mesh);
std::vector<std::array<double, 2>> temperature_coefficients(const Mesh& mesh);
std::vector<std::array<double, 2>> stream_coefficients(const Mesh& mesh);

}  // namespace wallfoot
