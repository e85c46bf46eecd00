// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "solver/bracket/energies.hpp"
#include "solver/bracket/solution.hpp"

namespace wallfoot {

/// Both fields of every contact's unit load on one mesh, hierarchical coefficients per triangle.
struct Fields {
    std::vector<std::vector<Quadratic>> temperature, stream;  ///< by contact
    int unknowns = 0;
};

/// Numbers of the unknowns of both fields; made at the first solve, good for every solve on the same mesh.
struct FieldNumbers {
    std::optional<Numbering> temperature, stream;
};

/// What one solve leaves for the next on the same mesh: factors and solutions to begin with.
struct KeptFields {
    KeptSolution temperature, stream;
};

/// Contacts that meet the body at all, ascending. The load of the last one follows from the others.
std::vector<int> contacts_present(const Mesh& mesh);

/// Solves both fields. `errors`: squared energy that the linear solver may leave in each load but the last present one;
/// empty = solved exactly. `kept`, when given, is used and refilled.
Fields solve_fields(const Mesh& mesh, FieldNumbers& numbers, const std::vector<double>& errors, bool two_threads,
                    KeptFields* kept = nullptr);

/// What the caller of the solver gets.
Solution to_solution(const Mesh& mesh, const Fields& fields, Energies&& energies);

}  // namespace wallfoot
