// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPainter>
#include <QPainterPath>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

QPen thin(const QColor& colour, double width = 1, Qt::PenStyle style = Qt::SolidLine) {
    QPen pen(colour, width, style);
    pen.setCosmetic(true);
    return pen;
}

QPolygonF polygon(const View& view, const Outline& outline) {
    QPolygonF shape;
    for (const Point p : outline) shape << view.to_pixels(p);
    return shape;
}

QRectF on_screen(const View& view, const Rect& rect) {
    return QRectF(view.to_pixels(Point{rect.left, rect.top}), view.to_pixels(Point{rect.right, rect.bottom})).normalized();
}

void text_on(QPainter& painter, QPointF at, const QString& text, const SheetColours& colours) {
    const QRectF box = painter.fontMetrics().boundingRect(text).translated(at.toPoint()).adjusted(-4, -2, 4, 2);
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(box, 3, 3);
    painter.setPen(colours.ink);
    painter.drawText(at, text);
}

}  // namespace

void Sheet::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const SheetColours colours = this->colours();
    painter.fillRect(rect(), colours.paper);
    const auto section = shown();
    if (!section) {
        paint_empty(painter);
        return;
    }
    if (heat_shown()) {
        heat_layer_->want({view_, devicePixelRatioF(), findings_, range_});
        painter.save();
        painter.setClipRect(on_screen(view_, section->cut));
        if (!current_) painter.setOpacity(0.3);
        heat_layer_->paint(painter, view_);
        painter.restore();
    }
    paint_lines(painter);
    painter.setRenderHint(QPainter::Antialiasing);
    paint_picked(painter);
    paint_lowest(painter);
    paint_marks(painter);
    paint_outline(painter);
    paint_legend(painter);
    if (pointed_at_) {
        painter.setPen(thin(colours.accent, 3));
        painter.setBrush(Qt::NoBrush);
        painter.drawEllipse(view_.to_pixels(*pointed_at_), 22, 22);
    }
    if (hasFocus()) {
        painter.setPen(thin(palette().color(QPalette::Highlight)));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5));
    }
}

void Sheet::paint_lines(QPainter& painter) {
    const double ratio = devicePixelRatioF();
    const auto section = shown();
    const LineLayer key{view_, ratio, section, findings_, heat_shown(), isotherms_, flow_lines_, dark_, current_};
    if (!(key == lines_key_) || lines_.isNull()) {
        lines_key_ = key;
        lines_ = QImage(QSize(static_cast<int>(std::ceil(width() * ratio)), static_cast<int>(std::ceil(height() * ratio))),
                        QImage::Format_ARGB32_Premultiplied);
        lines_.setDevicePixelRatio(ratio);
        lines_.fill(Qt::transparent);
        QPainter layer(&lines_);
        layer.setFont(font());
        layer.setRenderHint(QPainter::Antialiasing);
        SectionLook look;
        look.colours = colours();
        look.hatches = !key.heat;
        const bool same_drawing = findings_ && findings_->section == section;
        paint_section(layer, view_, *document_.study(), *section, same_drawing ? &findings_->arrangement : nullptr, look);
        if (key.heat) {
            layer.save();
            layer.setClipRect(on_screen(view_, section->cut));
            if (!current_) layer.setOpacity(0.3);
            if (flow_lines_) tube_ = paint_heat_flow_lines(layer, view_, *findings_->solution, findings_->temperatures, look.colours);
            if (isotherms_) isotherm_step_ = paint_isotherms(layer, view_, *findings_->solution, findings_->temperatures, range_, look.colours);
            layer.restore();
        }
    }
    painter.drawImage(QPointF(0, 0), lines_);
}

void Sheet::paint_picked(QPainter& painter) {
    const SheetColours colours = this->colours();
    const auto section = shown();
    if (picked_.kind == PickedKind::membrane) {
        for (const auto& membrane : section->membranes)
            if (membrane.id == picked_.id.toStdString()) {
                painter.setPen(thin(colours.selection, 4));
                painter.setBrush(Qt::NoBrush);
                painter.drawPolyline(polygon(view_, membrane.path));
            }
        return;
    }
    if (picked_.kind != PickedKind::piece) return;
    const Piece* piece = find_piece(*section, picked_.id.toStdString());
    if (!piece) return;
    std::vector<const Outline*> outlines{&piece->outline};
    for (const auto& hole : piece->holes) outlines.push_back(&hole);
    for (const auto* outline : outlines) {
        painter.setPen(thin(colours.selection, 2.5));
        painter.setBrush(Qt::NoBrush);
        painter.drawPolygon(polygon(view_, *outline));
    }
    if (tool_ != Tool::pick) return;
    painter.setPen(thin(colours.selection, 1.5));
    painter.setBrush(colours.paper);
    for (const auto* outline : outlines)
        for (const Point p : *outline) painter.drawRect(QRectF(view_.to_pixels(p) - QPointF(4, 4), QSizeF(8, 8)));
    const auto& hot = drag_ ? drag_ : handle_;
    if (!hot) return;
    painter.setPen(thin(colours.accent, 4));
    if (drag_ && drag_->to) {
        const Point to = *drag_->to;
        if (hot->corner) painter.drawEllipse(view_.to_pixels(to), 6, 6);
        else painter.drawLine(view_.to_pixels(to), view_.to_pixels(Point{to.x + hot->b.x - hot->a.x, to.y + hot->b.y - hot->a.y}));
    } else if (hot->corner) {
        painter.drawEllipse(view_.to_pixels(hot->a), 6, 6);
    } else {
        painter.drawLine(view_.to_pixels(hot->a), view_.to_pixels(hot->b));
    }
}

void Sheet::paint_outline(QPainter& painter) {
    const SheetColours colours = this->colours();
    if (outline_) {
        const Outline outline = outline_->preview();
        painter.setPen(thin(colours.accent, 2));
        QColor fill = colours.accent;
        fill.setAlphaF(0.12F);
        painter.setBrush(outline.size() > 2 ? QBrush(fill) : QBrush(Qt::NoBrush));
        if (outline.size() > 2) painter.drawPolygon(polygon(view_, outline));
        else painter.drawPolyline(polygon(view_, outline));
        painter.setBrush(colours.paper);
        for (const Point p : outline_->corners()) painter.drawEllipse(view_.to_pixels(p), 4, 4);
        if (outline_->drawing() && outline_->shape() == OutlineTool::Shape::polygon) {
            const Point a = outline_->corners().back(), b = outline_->target();
            const QPointF middle = (view_.to_pixels(a) + view_.to_pixels(b)) / 2;
            const double length = std::hypot(to_mm(b.x - a.x), to_mm(b.y - a.y));
            if (length > 0) text_on(painter, middle + QPointF(8, -8), QString::fromStdString(length_text(length)), colours);
        } else if (outline.size() == 4 && outline_->drawing()) {
            text_on(painter, view_.to_pixels(outline_->target()) + QPointF(12, -10),
                    QStringLiteral("%1 × %2").arg(QString::fromStdString(number_text(to_mm(outline[1].x - outline[0].x))),
                                                  QString::fromStdString(length_text(to_mm(outline[2].y - outline[1].y)))), colours);
        }
    }
    const bool snapping = (outline_ || (drag_ && drag_->begun)) && hovering_;
    if (!snapping) return;
    const QPointF at = view_.to_pixels(outline_ ? outline_->target() : hover_.at);
    painter.setPen(thin(colours.accent, 1.5));
    painter.setBrush(Qt::NoBrush);
    painter.drawLine(at - QPointF(8, 0), at + QPointF(8, 0));
    painter.drawLine(at - QPointF(0, 8), at + QPointF(0, 8));
    if (hover_.kind < SnapKind::grid) {
        painter.drawEllipse(view_.to_pixels(hover_.at), 7, 7);
        text_on(painter, view_.to_pixels(hover_.at) + QPointF(12, 20), name_of(hover_.kind), colours);
    }
}

void Sheet::paint_marks(QPainter& painter) {
    const SheetColours colours = this->colours();
    for (const Mark& mark : marks_) {
        const QPointF at = view_.to_pixels(mark.at);
        const QColor colour = mark.fault ? colours.fault : colours.caution;
        painter.setPen(thin(colour, 2));
        painter.setBrush(colours.label_back);
        // Faults are round, cautions three-cornered: not told by colour alone.
        if (mark.fault) painter.drawEllipse(at, 10, 10);
        else painter.drawPolygon(QPolygonF{at + QPointF(0, -12), at + QPointF(12, 9), at + QPointF(-12, 9)});
        painter.setPen(colours.ink);
        painter.drawText(QRectF(at - QPointF(14, 10), QSizeF(28, mark.fault ? 20 : 23)), Qt::AlignCenter, QString::number(mark.number));
    }
}

void Sheet::paint_lowest(QPainter& painter) {
    if (!findings_ || !current_) return;
    const SurfaceFinding* lowest = findings_->headline_surface();
    if (!lowest) return;
    const SheetColours colours = this->colours();
    const QPointF at = view_.to_pixels(lowest->at[0] / 1000, lowest->at[1] / 1000);
    painter.setPen(thin(colours.paper, 1.5));
    painter.setBrush(colours.accent);
    painter.drawEllipse(at, 5, 5);
    if (activity_ == Activity::heat)
        text_on(painter, at + QPointF(10, -8), tr("lowest %1 °C").arg(QString::fromStdString(number_text(lowest->lowest, 1))), colours);
}

void Sheet::paint_legend(QPainter& painter) {
    const SheetColours colours = this->colours();
    paint_scale_bar(painter, QPointF(16, height() - 16), view_, colours);
    if (!heat_shown()) return;
    const double line = painter.fontMetrics().height();
    const QRectF key(width() - 16 - 11 * line, height() - 16 - 2.4 * line, 11 * line, 2.4 * line);
    QStringList lines;
    if (isotherms_ && isotherm_step_ > 0) lines << tr("isotherms every %1 K").arg(QString::fromStdString(number_text(isotherm_step_, 2)));
    if (flow_lines_ && tube_ > 0) lines << tr("%1 W/m between two heat-flow lines").arg(QString::fromStdString(number_text(tube_, 3)));
    double wide = key.width();
    for (const auto& text : lines) wide = std::max(wide, painter.fontMetrics().horizontalAdvance(text) + 4.0);
    const QRectF back(width() - 24 - wide, key.top() - 8 - line * lines.size(), wide + 16, key.height() + 16 + line * lines.size());
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(back, 4, 4);
    painter.setPen(colours.ink);
    for (int i = 0; i < lines.size(); ++i) painter.drawText(QPointF(back.left() + 8, back.top() + 6 + line * (i + 0.75)), lines[i]);
    paint_key(painter, key, range_, colours);
}

void Sheet::paint_empty(QPainter& painter) {
    painter.setPen(colours().ink);
    painter.drawText(rect(), Qt::AlignCenter | Qt::TextWordWrap, tr("No study is open. File › Open (Ctrl+O) opens one."));
}

}  // namespace wallfoot
