// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "solver/mesh/mesh.hpp"

namespace wallfoot {

/// Share of a local corner in one more corner unknown (a jump of the stream function).
struct JumpShare {
    int triangle = 0, corner = 0, unknown = 0;
    double factor = 0;
};

/// Which unknown each of the six hierarchical local functions of a triangle belongs to: corners 0 1 2 to a corner unknown,
/// the bubbles of the edges opposite them to a bubble unknown, each kind numbered from 0. Otherwise `absent` (value
/// zero); a corner may be `fixed(k)` – row k of `fixed_values` – and a bubble `gathered(k)` – corner unknown k.
struct Numbering {
    static constexpr int absent = -1;
    static constexpr int fixed(int k) { return -2 - k; }
    static constexpr bool is_fixed(int n) { return n <= -2; }
    static constexpr int fixed_row(int n) { return -2 - n; }
    static constexpr int gathered(int k) { return -2 - k; }
    static constexpr bool is_gathered(int n) { return n <= -2; }
    static constexpr int corner_unknown(int n) { return -2 - n; }

    int corners = 0, bubbles = 0;  ///< corners in the fill-reducing order, free jumps last
    int unknowns() const { return corners + bubbles; }
    std::vector<std::array<int, 6>> local;
    std::vector<std::vector<double>> fixed_values;  ///< [row][contact]: value under the unit load of that contact
    std::vector<JumpShare> jumps;                   ///< sorted by triangle, then corner
};

/// Fill-reducing order of the mesh vertices (approximate minimum degree), shared by both fields: rank of each vertex.
std::vector<int> vertex_order(const Mesh& mesh);

/// Temperature: fixed where a contact has no resistance; a part of the body that meets no space is pinned to 0.
Numbering number_temperature(const Mesh& mesh, const EdgeNumbers& edges, const std::vector<int>& order);

/// Stream function: one value along every connected adiabatic arc, jumps across cuts, pinned once per part of the body.
/// Vertices where two parts touch in a point have a value on each side.
Numbering number_stream(const Mesh& mesh, const EdgeNumbers& edges, const std::vector<int>& order);

/// Counts bubbles among the corner unknowns, each just before the earlier of its two ends: the sparse form of condensing
/// it out. All of them, or those of slender triangles, which two levels would settle slowly.
enum class Gather { all, slender };
void gather_bubbles(Numbering& numbering, const Mesh& mesh, Gather which);

/// Vertices where two contacts without resistance and of different spaces meet (RULES 10), as a flag per vertex.
std::vector<char> touching_fixed_vertices(const Mesh& mesh);

}  // namespace wallfoot
