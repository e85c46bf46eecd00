// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// Where a dimension is drawn, pixels: its line, the helping lines from the points to it, and its length with its text.
struct DimensionPlace {
    QLineF line, from_side, to_side;
    QPointF middle;
    QString text;
    QRectF label;  ///< around its text as it stands, upright
};
DimensionPlace place_of(const View& view, const Dimension& dimension);
QRectF place_of(const View& view, const Note& note);

/// A named measure, pixels: its line as drawn, its handle, its name with the present length.
struct StretchPlace {
    QPolygonF line;
    QPointF handle, way;  ///< `way`: unit step of what moves
    QString text;
    QRectF label;
};
StretchPlace place_of(const View& view, const Stretch& stretch);

/// Dimensions with oblique strokes at their ends and texts, at the same size at any scale.
void paint_notes(QPainter& painter, const View& view, const Section& section, const SheetColours& colours, LabelPlaces& places);
void paint_dimension(QPainter& painter, const DimensionPlace& place, QColor ink, QColor back);
void paint_stretch(QPainter& painter, const StretchPlace& place, const SheetColours& colours, bool picked);
/// The height of the cut blocks at foot and head of a picked piece with courses; null texts where whole courses end.
void paint_cut_blocks(QPainter& painter, const View& view, const Piece& piece, const SheetColours& colours);

}  // namespace wallfoot
