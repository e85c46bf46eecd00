// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/arrangement/surfaces.hpp"

namespace wallfoot {

/// A straight stretch of a surface, in walking order.
struct StraightLine {
    Point from, to;
};

/// The surface of one space, walked from a vertex on the frame to where it ends: the frame again, or a cutout.
struct SurfaceChain {
    std::vector<StraightLine> lines;
    bool empty() const { return lines.empty(); }
    Point end() const { return lines.back().to; }
};

/// Walks the surface of a space from vertex `start`. Where solids touch in a point the walk stays with the same air.
SurfaceChain walk_surface(const Arrangement& arrangement, const std::vector<SurfaceEdge>& surfaces, int space, int start);
/// The same chain from its other end.
SurfaceChain reversed(const SurfaceChain& chain);

/// The last straight line before the surface has turned more than 30° from its first direction (RULES 5).
StraightLine last_line(const SurfaceChain& chain);

/// How the last lines seen from both ends of a surface lie to each other.
struct Reference {
    std::optional<Point> at;  ///< their intersection
    bool one_line = false;    ///< both on one straight line: the element is counted once, with its whole length
};
Reference reference_of(const StraightLine& a, const StraightLine& b);

/// Angle between two directions, 0 … 180°.
double angle_between(const StraightLine& a, const StraightLine& b);

}  // namespace wallfoot
