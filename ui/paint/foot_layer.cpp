// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/foot_layer.hpp"

namespace wallfoot {

namespace {


void paint_zone(QPainter& painter, const QRectF& zone, const SheetColours& colours) {
    // Crossed lines, wider apart than any hatch of a material, in a colour no material has.
    painter.save();
    painter.setClipRect(zone, Qt::IntersectClip);
    constexpr double apart = 12;
    for (const auto& [colour, width] : {std::pair(colours.label_back, 4.0), std::pair(colours.accent, 1.6)}) {
        painter.setPen(QPen(colour, width));
        for (double at = -zone.height(); at < zone.width(); at += apart) {
            painter.drawLine(QPointF(zone.left() + at, zone.bottom()), QPointF(zone.left() + at + zone.height(), zone.top()));
            painter.drawLine(QPointF(zone.left() + at, zone.top()), QPointF(zone.left() + at + zone.height(), zone.bottom()));
        }
    }
    painter.restore();
    painter.setPen(QPen(colours.accent, 2, Qt::DashLine));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(zone);
}

}  // namespace

void paint_frost_bands(QPainter& painter, const View& view, const FootReport& report, const QRectF& shown, const SheetColours& colours, LabelPlaces& places) {
    if (report.bands.empty()) return;
    for (const FrostBand& band : report.bands) {
        const QRectF zone = QRectF(view.to_pixels(Point{band.area.left, band.area.top}), view.to_pixels(Point{band.area.right, band.area.bottom})).normalized();
        if (const QRectF seen = zone & shown; !seen.isEmpty()) paint_zone(painter, seen, colours);
    }
    const QString text = caption("foot-key-band");
    const QSizeF size(label_size(sheet_font(12), text).width() + key_sample + 3 * key_margin, key_row + 2 * key_margin);
    const QRectF key(QPointF(shown.right() - size.width() - key_margin, shown.bottom() - size.height() - key_margin), size);
    places.reserve(key);
    painter.setPen(QPen(colours.faint, 1));
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(key, 4, 4);
    paint_zone(painter, QRectF(key.left() + key_margin, key.top() + key_margin, key_sample, key_row), colours);
    painter.setPen(colours.ink);
    painter.setFont(sheet_font(12));
    painter.drawText(QRectF(key.left() + key_sample + 2 * key_margin, key.top(), key.width(), key.height()), Qt::AlignVCenter | Qt::AlignLeft, text);
}

}  // namespace wallfoot
