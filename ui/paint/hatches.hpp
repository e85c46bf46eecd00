// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>
#include <QList>
#include <QPainter>
#include <QPolygonF>
#include <QRectF>
#include <QString>

#include "core/study/material.hpp"
#include "ui/paint/paint.hpp"

// Hatches by kind of material. They follow ISO 128-3 (hatching of cuts at 45°, neighbours of one kind told apart by
// turning or respacing it) and the conventional symbols for earth, gravel, concrete, mortar, wood and insulation of ISO
// 4069 and public-domain drafting practice; all from memory. The patterns are data: resources/hatches/sections.json.
namespace wallfoot {

/// Device-independent pixels of one paper millimetre (96 dots per inch): patterns and marks have this size whatever the
/// zoom.
constexpr double pixels_per_paper_mm = 96 / 25.4;

/// A family of parallel lines, paper mm; angle in degrees anticlockwise from the horizontal.
struct HatchLines {
    double angle = 45, spacing = 2.5, width = 0.2, offset = 0;
    QList<double> dash;    ///< empty = unbroken
    bool stagger = false;  ///< every other line starts half a dash later
};
/// Small symbols strewn over a staggered grid, paper mm.
struct HatchMarks {
    QString shape;  ///< dot | triangle | circle | strokes
    double size = 1, spacing = 4, width = 0.2;
};
struct Hatch {
    QColor tint_light, tint_dark;
    QList<HatchLines> lines;
    QList<HatchMarks> marks;
};

/// The hatch of a kind; read once. Throws std::runtime_error when the data file is damaged.
const Hatch& hatch_of(MaterialKind kind);

/// An area in pixels, even-odd: the outline and its holes.
using Rings = QList<QPolygonF>;

/// Fills an area with tint and pattern. `origin`: where the pattern is anchored, so that it moves with the drawing.
/// `turn` 0 … 3 tells materials of one kind apart: single slanted lines are mirrored, then spaced wider; other patterns
/// are spaced wider and wider. Everything is clipped by computation, never by the painter, since the SVG painter cannot
/// clip.
void paint_hatch(QPainter& painter, const Rings& rings, const Hatch& hatch, int turn, QPointF origin,
                 const SheetColours& colours);

/// Pieces of the line y = const inside an area (even-odd), as ascending pairs of x.
QList<double> inside_spans(const Rings& rings, double y);
/// Pieces inside an area of parallel lines at `angle` degrees, `spacing` pixels apart, one through `origin`.
QList<QLineF> hatch_lines(const Rings& rings, double angle, double spacing, QPointF origin);
/// Draws many lines at once: a single path in an SVG, a list elsewhere (the faster way of each).
void draw_lines(QPainter& painter, const QList<QLineF>& lines);

}  // namespace wallfoot
