// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLineF>
#include <QList>
#include <QPolygonF>
#include <QRectF>
#include <optional>

namespace wallfoot {

/// An outline cut at a rectangle (Sutherland–Hodgman). An even-odd filling of the result is that of the outline inside
/// the rectangle, also where it is not convex.
QPolygonF clipped(const QPolygonF& ring, const QRectF& rect);
/// The part of a line inside a rectangle (Liang–Barsky).
std::optional<QLineF> clipped(const QLineF& line, const QRectF& rect);
/// The parts of a line that lie in none of the areas (each even-odd); `boxes` are their bounding boxes.
QList<QLineF> outside_of(const QLineF& line, const QList<QList<QPolygonF>>& areas, const QList<QRectF>& boxes,
                         qsizetype first);

}  // namespace wallfoot
