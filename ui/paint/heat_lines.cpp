// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/heat_lines.hpp"

#include "ui/paint/field_lines.hpp"
#include "ui/paint/section_marks.hpp"

namespace wallfoot {

LineSteps paint_over_heat(QPainter& painter, const View& view, const Study& study, const Section& section,
                          const Arrangement* arrangement, const Findings& findings, const SectionLook& look,
                          const HeatLook& heat, const QRectF& shown, LabelPlaces& places) {
    LineSteps steps;
    const SheetColours colours = SheetColours::light();  // dark lines on any map
    paint_section_body(painter, view, study, section, arrangement, look);
    if (heat.lowest != nullptr) places.reserve(lowest_ring(view, *heat.lowest));
    painter.save();
    painter.setOpacity(heat.opacity);
    if (heat.flow_lines) steps.watts = paint_heat_flow_lines(painter, view, *findings.solution, findings.temperatures, shown);
    if (heat.isotherms) {
        // Marks claim their places before the isotherms' labels do, but are painted over the lines.
        LabelPlaces for_lines = places;
        QImage nowhere(1, 1, QImage::Format_ARGB32_Premultiplied);
        QPainter trial(&nowhere);
        paint_section_marks(trial, view, study, section, arrangement, look, for_lines);
        if (heat.lowest != nullptr) paint_lowest(trial, view, *heat.lowest, colours, true, for_lines);
        steps.kelvins = paint_isotherms(painter, view, *findings.solution, findings.temperatures, heat.range, shown, for_lines);
    }
    painter.restore();
    paint_section_marks(painter, view, study, section, arrangement, look, places);
    if (heat.lowest != nullptr) paint_lowest(painter, view, *heat.lowest, colours, true, places);
    return steps;
}

QRectF lowest_ring(const View& view, const SurfaceFinding& lowest) {
    return QRectF(view.to_pixels(lowest.at[0] / 1000, lowest.at[1] / 1000) - QPointF(8, 8), QSizeF(16, 16));
}

void paint_lowest(QPainter& painter, const View& view, const SurfaceFinding& lowest, const SheetColours& colours,
                  bool labelled, LabelPlaces& places) {
    const QPointF p = lowest_ring(view, lowest).center();
    if (!places.bounds().contains(p)) return;
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours.paper, 4.5));
    painter.drawEllipse(p, 6, 6);
    painter.setPen(QPen(colours.ink, 2));
    painter.drawEllipse(p, 6, 6);
    if (!labelled) return;
    const QFont font = sheet_font(12, true);
    const QString text = caption("mark-lowest", {{"temperature", number(lowest.lowest, 1).toStdString()}});
    const QSizeF size = label_size(font, text);
    const double w = size.width() / 2 + 11, h = size.height() / 2 + 11;
    const QRectF where =
        places.take_anyway(size, {p + QPointF(-w, -h), p + QPointF(w, -h), p + QPointF(-w, h), p + QPointF(w, h),
                                  p + QPointF(-w, -2.4 * h), p + QPointF(w, -2.4 * h)});
    paint_label(painter, where, text, font, colours.ink, colours.label_back);
}

void paint_line_sample(QPainter& painter, const QRectF& where, const QPen& pen, bool arrow) {
    QLinearGradient ground(where.left(), 0, where.right(), 0);
    for (const double t : {0.0, 0.5, 1.0}) ground.setColorAt(t, temperature_colour(0.45 + 0.45 * t));
    painter.fillRect(where, ground);
    const QPointF c = where.center();
    painter.setPen(pen);
    painter.drawLine(QPointF(where.left(), c.y()), QPointF(where.right(), c.y()));
    if (!arrow) return;
    painter.setPen(Qt::NoPen);
    painter.setBrush(pen.color());
    painter.drawPolygon(QPolygonF{c + QPointF(7, 0), c + QPointF(-4, 4.5), c + QPointF(-4, -4.5)});
    painter.setBrush(Qt::NoBrush);
}

}  // namespace wallfoot
