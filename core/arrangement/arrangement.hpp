// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "core/geometry/point.hpp"
#include "core/study/study.hpp"
#include "core/text/message.hpp"
#include "core/context/context.hpp"

namespace wallfoot {

enum class FaceKind { solid, air, cutout };

/// A connected area of one filling inside the frame.
struct Face {
    FaceKind kind = FaceKind::air;
    int piece = -1;       ///< topmost piece (index into Section::pieces), -1 for bare air
    int space = -1;       ///< for air: index into Section::spaces; -1 = claimed by nobody (then there is a fault)
    Area2 area2 = 0;      ///< doubled area, µm², exact
    Point inside;         ///< a grid point in or on the face, good for a marker
};

/// A noded edge between two vertices. left/right: face index, -1 outside the frame.
struct ArrangedEdge {
    int from = 0, to = 0;
    int left = -1, right = -1;
    std::vector<int> membranes;  ///< indices into Section::membranes that lie on it
};

/// The section resolved in one pass: noded, labelled, air claimed, carried on beyond the cut.
/// Nothing downstream looks at the separate pieces any more. Membranes and the levels through `auto` pieces are noded too.
struct Arrangement {
    Rect cut;    ///< as drawn
    Rect frame;  ///< with what lies beyond
    std::vector<Point> vertices;
    std::vector<ArrangedEdge> edges;
    std::vector<Face> faces;
    std::vector<std::array<int, 3>> triangles;  ///< of the whole frame, anticlockwise, indices into vertices
    std::vector<int> triangle_face;             ///< face of each triangle
    std::vector<Message> messages;              ///< faults and cautions, each with its place

    /// False while any message is a fault: then there is no answer, but faces and triangles still serve the picture.
    bool sound() const;
};

/// Resolves a section. Never throws for what is wrong with the drawing: faults are in `messages`.
/// Throws Cancelled. Rules: RULES 1, 2, 3, 11 (noding of levels), 16.
Arrangement arrange(const Study& study, const Section& section, const Context& context = {});

/// Every invariant of an arrangement that is broken, as text (empty = none): exact area sum, edge/face agreement,
/// triangle orientation. For tests and debug builds.
std::vector<std::string> validate(const Arrangement& arrangement);

/// Face under a point (any face that touches it), -1 outside the frame. Linear search.
int face_at(const Arrangement& arrangement, Point p);

/// The ground and DPC level that holds at x (a level given per side divides at the middle of the cut; one side alone holds everywhere).
std::optional<Micrometres> level_at(const Level& level, const Rect& cut, Micrometres x);

/// A piece whose moisture condition is found, not given.
inline bool is_auto(const Piece& piece) { return piece.fill == Fill::material && !piece.moisture; }

}  // namespace wallfoot
