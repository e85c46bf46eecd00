// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "ui/paint/paint.hpp"

namespace wallfoot {

QPointF View::to_pixels(double x_mm, double y_mm) const {
    return {viewport.width() / 2 + (x_mm - centre_mm.x()) * pixels_per_mm,
            viewport.height() / 2 - (y_mm - centre_mm.y()) * pixels_per_mm};
}

QPointF View::to_pixels(Point p) const { return to_pixels(wallfoot::to_mm(p.x), wallfoot::to_mm(p.y)); }

QPointF View::to_mm(QPointF pixels) const {
    return {centre_mm.x() + (pixels.x() - viewport.width() / 2) / pixels_per_mm,
            centre_mm.y() - (pixels.y() - viewport.height() / 2) / pixels_per_mm};
}

View View::fitting(const Rect& rect, QSizeF viewport, double margin) {
    View view;
    view.viewport = viewport;
    view.centre_mm = {(wallfoot::to_mm(rect.left) + wallfoot::to_mm(rect.right)) / 2,
                      (wallfoot::to_mm(rect.bottom) + wallfoot::to_mm(rect.top)) / 2};
    const double share = 1 - 2 * std::clamp(margin, 0.0, 0.45);
    const double width = std::max(wallfoot::to_mm(rect.width()), 0.001),
                 height = std::max(wallfoot::to_mm(rect.height()), 0.001);
    const double fit = std::min(viewport.width() * share / width, viewport.height() * share / height);
    if (fit > 0) view.pixels_per_mm = fit;
    return view;
}

View View::zoomed_at(QPointF pixels, double factor) const {
    View view = *this;
    view.pixels_per_mm = pixels_per_mm * factor;
    const QPointF kept = to_mm(pixels), moved = view.to_mm(pixels);
    view.centre_mm += kept - moved;
    return view;
}

SheetColours SheetColours::light() {
    return {QColor(0xff, 0xff, 0xff), QColor(0x1a, 0x1d, 0x21), QColor(0x5c, 0x65, 0x70),
            QColor(0x0b, 0x62, 0x62), QColor(0x1b, 0x4d, 0xc9), QColor(0xb0, 0x1f, 0x1f),
            QColor(0x8a, 0x54, 0x00), QColor(0x10, 0x12, 0x14), QColor(255, 255, 255, 225)};
}

SheetColours SheetColours::dark() {
    return {QColor(0x1e, 0x21, 0x25), QColor(0xe9, 0xec, 0xef), QColor(0xa3, 0xab, 0xb5),
            QColor(0x66, 0xcf, 0xc8), QColor(0x8f, 0xb6, 0xff), QColor(0xff, 0x94, 0x8c),
            QColor(0xf3, 0xbd, 0x57), QColor(0xff, 0xff, 0xff), QColor(0x1e, 0x21, 0x25, 225)};
}

}  // namespace wallfoot
