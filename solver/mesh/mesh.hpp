// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "solver/mesh/model.hpp"

namespace wallfoot {

/// Sort of boundary: which space through which resistance.
struct ContactKind {
    int contact = 0;
    double resistance = 0;  ///< m²·K/W; 0 = the surface has the space's temperature
    auto operator<=>(const ContactKind&) const = default;
};

/// Triangle mesh of the conducting body. Coordinates are µm as doubles: midpoints of halved grid edges are exact.
struct Mesh {
    std::vector<std::array<double, 2>> points;
    std::vector<std::array<int, 3>> triangles;   ///< anticlockwise
    std::vector<std::array<int, 3>> neighbours;  ///< across the edge opposite corner i, -1 at the boundary
    /// On a boundary edge: index into `kinds`, or -1 adiabatic. On an interior edge: 0, or ±(k+1) where jump k of the
    /// stream function is crossed (+ on the side that sees the higher value).
    std::vector<std::array<int, 3>> marks;
    std::vector<int> region;
    std::vector<Region> regions;
    std::vector<ContactKind> kinds;
    int contacts = 0;
    int jumps = 0;  ///< holes with a net flow, each with one cut

    double area(int triangle) const;                       ///< µm²
    double edge_length(int triangle, int corner) const;    ///< µm, of the edge opposite the corner
    bool boundary(int t, int i) const { return neighbours[t][i] < 0; }
};

/// Numbers of the edges of a mesh: edge of (triangle, corner), shared by both sides, in order of the lower triangle.
struct EdgeNumbers {
    std::vector<std::array<int, 3>> of;
    int count = 0;
};
EdgeNumbers number_edges(const Mesh& mesh);

/// Start mesh: constrained Delaunay triangulation of the model's lines, seeded with points graded from its vertices
/// (h grows linearly with the distance), and with cuts from every hole that carries a net flow.
/// Throws std::logic_error when the area of a region or the length of a contact differs from the model's by more than
/// 1e-12 relative (RULES 2).
Mesh start_mesh(const Model& model);

/// Halves the longest edge of every marked triangle and whatever conformity asks for (longest-edge bisection, nested).
/// `parent`, when given, receives for every new triangle the old one it came from.
Mesh bisect(const Mesh& mesh, const std::vector<char>& marked, std::vector<int>* parent = nullptr);

/// Finds holes that carry a contact and marks a cut from each to a loop already connected; sets `jumps`.
/// A hole for which no path exists stays uncut: its lower bound stays valid but does not close.
void cut_holes(Mesh& mesh);

}  // namespace wallfoot
