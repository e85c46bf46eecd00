// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/geometry/noding.hpp"

namespace wallfoot {

/// Which label of the noding stands for what.
struct Labels {
    int pieces = 0, membranes = 0;
    int membrane(int i) const { return pieces + i; }
    int level() const { return pieces + membranes; }
    int cut() const { return level() + 1; }
};

Labels labels_of(const Section& section);

/// Everything drawn, clipped to the cut, with its labels: outlines and holes, membranes, the levels through `auto` pieces
/// (RULES 11) and the cut itself.
std::vector<LabelledSegment> drawn_lines(const Section& section);

/// Noded drawing → faces and edges inside `frame` (which contains the cut); beyond the cut it carries on (RULES 1, 3).
/// Air is not claimed yet. Faults: arrangement-guard.
Arrangement resolve(const Section& section, const Noded& noded, const Rect& frame);

/// One filling met along a side of the cut: from < to along the side.
struct SidePart {
    Micrometres from = 0, to = 0;
    int face = 0;
};

/// Faces met just inside one side of the cut, in order from its lower or left end.
std::vector<SidePart> along_side(const Arrangement& arrangement, CutSide side);

bool is_upright(CutSide side);           ///< left or right
Micrometres place(const Rect& rect, CutSide side);  ///< x or y of that side
bool on_side(const Rect& rect, CutSide side, Point p);  ///< on the line of that side

/// Largest triangle of a face, those inside the cut first; -1 when the face has none.
int largest_triangle(const Arrangement& arrangement, int face);
/// Grid point nearest to a triangle's middle; one of its corners when the grid has none inside.
Point middle(const Arrangement& arrangement, int triangle);

}  // namespace wallfoot
