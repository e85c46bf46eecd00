// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/study.hpp"

namespace wallfoot {

// Where an underlay is not to scale what was taken off it counts for nothing: only written dimensions do. This tells
// which edges of pieces none of them gives.
//
// Every x and every y at which something is drawn is a level; what is drawn on one level shares it. A dimension along x
// ties the level of one of its ends to that of the other, one along y likewise, a straight one that lies or stands
// likewise. Levels tied by a chain of dimensions have a written difference. An edge is written when
// - it lies or stands, and the levels of its ends are tied;
// - it is slanted, and the levels of its ends are tied across and up, or a straight dimension runs from one end to the other.
// An edge is broken off, and nothing needs to be written, when one of its ends is at or beyond a side of the cut in the
// direction in which it runs: a wall that goes on upwards has no length here, but it has a thickness, there as well. A
// piece that lies beyond a side of the cut as a whole is passed over. Outlines are taken whole, also below what covers
// them. Named measures are not written on the drawing and give nothing.

/// Two neighbouring corners of an outline or hole between which nothing is written.
struct UnwrittenEdge {
    Point from, to;
    bool operator==(const UnwrittenEdge&) const = default;
};

struct UnwrittenPiece {
    int piece = 0;  ///< index in Section::pieces
    std::vector<UnwrittenEdge> edges;
    bool operator==(const UnwrittenPiece&) const = default;
};

/// Pieces with edges that no dimension gives, topmost first.
std::vector<UnwrittenPiece> unwritten_edges(const Section& section);

/// Where the edges of a piece run, in mm: "across 0 to 600; up 150 to 300", each way once, at most a dozen.
std::string where_unwritten(const UnwrittenPiece& piece);

/// The underlays of a section that are not to scale, by the names of their files; "" when there is none.
std::string underlays_not_to_scale(const Study& study, const Section& section);

}  // namespace wallfoot
