// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

/// The border of one face: simple rings on the vertices of the arrangement. Where the face touches itself at a point the
/// rings part there. The outline runs anticlockwise.
struct FaceBorder {
    Outline outline;
    std::vector<Outline> holes;
};
FaceBorder border_of(const Arrangement& arrangement, int face);

/// The open region around a point as a piece without id or filling, cut off at the cut. Throws InputFault with its place:
/// "region-outside-cut", "region-not-open" (no air there), "region-has-mark" (the air belongs to a space: its mark lies in it).
Piece open_region(const Study& study, const Section& section, Point at);

}  // namespace wallfoot
