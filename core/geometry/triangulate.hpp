// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "core/geometry/point.hpp"

namespace wallfoot {

/// A plane point in µm as double, for meshes: seeds and midpoints of halved edges need not lie on the grid.
struct MeshPoint {
    double x = 0, y = 0;
};

/// Triangulation of the convex hull; triangles anticlockwise, indices into the input points.
struct Triangulation {
    std::vector<std::array<int, 3>> triangles;
    /// neighbours[t][i]: triangle across the edge opposite corner i, -1 at the hull.
    std::vector<std::array<int, 3>> neighbours;
    /// constrained[t][i]: the edge opposite corner i is a constraint.
    std::vector<std::array<bool, 3>> constrained;
};

/// Constrained Delaunay triangulation with exact predicates. Constraints may meet only at given
/// points; one that crosses another or passes through a point is a defect of the caller: throws std::logic_error.
/// The result depends on the order of `points` and `constraints` only.
Triangulation triangulate(const std::vector<MeshPoint>& points, const std::vector<std::array<int, 2>>& constraints);
/// Same, for points on the grid (every grid coordinate is exact as a double).
Triangulation triangulate(const std::vector<Point>& points, const std::vector<std::array<int, 2>>& constraints);

}  // namespace wallfoot
