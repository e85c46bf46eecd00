// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPen>
#include <QPolygonF>

#include "ui/paint/paint.hpp"

namespace wallfoot {

inline QPen thin(const QColor& colour, double width = 1, Qt::PenStyle style = Qt::SolidLine) {
    QPen pen(colour, width, style);
    pen.setCosmetic(true);
    return pen;
}

inline QPolygonF polygon(const View& view, const Outline& outline) {
    QPolygonF shape;
    for (const Point p : outline) shape << view.to_pixels(p);
    return shape;
}

}  // namespace wallfoot
