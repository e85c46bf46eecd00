// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/geometry/point.hpp"

namespace wallfoot {

/// A straight line on the grid; `label` says which outline, membrane or helper line it came from.
struct LabelledSegment {
    Point a, b;
    int label = 0;
};

/// An edge of the noded drawing between two vertices (from < to as indices into sorted vertices).
/// `labels`: every input label that runs along it with how often, reduced to an odd count (parity), sorted;
/// `all`: every label that runs along it, whatever the count, sorted.
struct NodedEdge {
    int from = 0, to = 0;
    std::vector<int> labels;
    std::vector<int> all;
};

struct Noded {
    std::vector<Point> vertices;  ///< sorted, unique
    std::vector<NodedEdge> edges; ///< sorted by (from, to), unique; meet only at vertices
};

/// Hot-pixel snap rounding on the 1 µm grid, repeated until stable (RULES 2): crossings become vertices, an edge that
/// passes through the pixel of a vertex is bent to it. Axis-parallel edges are never moved. Exact predicates.
/// `loose` points become vertices too. Throws InputFault when more than `max_vertices` would arise.
Noded node(const std::vector<LabelledSegment>& segments, const std::vector<Point>& loose = {}, std::size_t max_vertices = 200'000);

}  // namespace wallfoot
