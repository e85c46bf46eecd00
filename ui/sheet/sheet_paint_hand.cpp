// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPainter>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "core/text/number_entry.hpp"
#include "ui/sheet/sheet.hpp"
#include "ui/sheet/sheet_pens.hpp"
#include "ui/paint/section_marks.hpp"
#include "ui/paint/section_notes.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/document.hpp"

// What follows the hand: what is picked with its handles, and what is being drawn.
namespace wallfoot {

namespace {

void text_on(QPainter& painter, QPointF at, const QString& text, const SheetColours& colours) {
    const QRectF box = painter.fontMetrics().boundingRect(text).translated(at.toPoint()).adjusted(-4, -2, 4, 2);
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(box, 3, 3);
    painter.setPen(colours.ink);
    painter.drawText(at, text);
}

}  // namespace

void Sheet::paint_level_line(QPainter& painter, const LevelName& level, Micrometres height) {
    const Rect& cut = shown()->cut;
    const Micrometres middle = cut.left + cut.width() / 2;
    const Micrometres from = level.side == Side::right ? middle : cut.left, to = level.side == Side::left ? middle : cut.right;
    painter.drawLine(view_.to_pixels(Point{from, height}), view_.to_pixels(Point{to, height}));
}

/// Ring around the marks of a picked space, line of a picked level.
void Sheet::paint_picked_marks(QPainter& painter) {
    const SheetColours colours = this->colours();
    const auto section = shown();
    painter.setBrush(Qt::NoBrush);
    if (picked_.kind == PickedKind::level) {
        const LevelName level = level_of(picked_.id);
        painter.setPen(thin(colours.selection, 2, Qt::DashLine));
        if (const auto height = height_of(*section, level)) paint_level_line(painter, level, *height);
        return;
    }
    const Space* space = find_space(*section, picked_.id.toStdString());
    if (!space) return;
    // The mark under the hand moves with it.
    const auto mark = drag_ && drag_->preview && drag_->to ? drag_->to : picked_.mark;
    for (const Point at : space->at) {
        painter.setPen(thin(colours.selection, at == mark || space->at.size() == 1 ? 2.5 : 1.2));
        painter.drawEllipse(view_.to_pixels(at), 9, 9);
    }
}

void Sheet::paint_picked_lines(QPainter& painter, const std::vector<const std::vector<Point>*>& lines, bool closed) {
    const SheetColours colours = this->colours();
    for (const auto* line : lines) {
        painter.setPen(thin(colours.selection, closed ? 2.5 : 4));
        painter.setBrush(Qt::NoBrush);
        if (closed) painter.drawPolygon(polygon(view_, *line));
        else painter.drawPolyline(polygon(view_, *line));
    }
    if (tool_ != Tool::pick) return;
    painter.setPen(thin(colours.selection, 1.5));
    painter.setBrush(colours.paper);
    for (const auto* line : lines)
        for (const Point p : *line) painter.drawRect(QRectF(view_.to_pixels(p) - QPointF(4, 4), QSizeF(8, 8)));
    const auto& hot = drag_ ? drag_ : handle_;
    if (!hot || hot->of.kind != picked_.kind || hot->of.id != picked_.id) return;
    painter.setPen(thin(colours.accent, 4));
    const Point at = drag_ && drag_->to ? *drag_->to : hot->a;
    if (hot->corner) painter.drawEllipse(view_.to_pixels(at), 6, 6);
    else painter.drawLine(view_.to_pixels(at), view_.to_pixels(Point{at.x + hot->b.x - hot->a.x, at.y + hot->b.y - hot->a.y}));
}

void Sheet::paint_picked(QPainter& painter) {
    const auto section = shown();
    const std::string id = picked_.id.toStdString();
    if (!picked_.more.empty() || picked_.kind == PickedKind::dimension || picked_.kind == PickedKind::note) {
        paint_several(painter);
    } else if (picked_.kind == PickedKind::membrane) {
        if (const Membrane* membrane = find_membrane(*section, id)) paint_picked_lines(painter, {&membrane->path}, false);
    } else if (picked_.kind == PickedKind::hidden) {
        if (const HiddenSurface* hidden = find_hidden(*section, id)) paint_picked_lines(painter, {&hidden->path}, false);
    } else if (picked_.kind == PickedKind::piece) {
        const Piece* piece = find_piece(*section, id);
        if (!piece) return;
        std::vector<const std::vector<Point>*> lines{&piece->outline};
        for (const auto& hole : piece->holes) lines.push_back(&hole);
        paint_cut_blocks(painter, view_, *piece, colours());
        paint_picked_lines(painter, lines, true);
        if (!picked_.hole || *picked_.hole >= piece->holes.size()) return;
        QColor inside = colours().selection;
        inside.setAlphaF(0.25F);
        painter.setPen(thin(colours().selection, 4));
        painter.setBrush(inside);
        painter.drawPolygon(polygon(view_, piece->holes[*picked_.hole]));
    } else {
        paint_picked_marks(painter);
    }
}

/// The line being drawn in the look it will have, its corners, and the length of its next part.
void Sheet::paint_next_line(QPainter& painter) {
    const SheetColours colours = this->colours();
    Membrane membrane;
    membrane.kind = next_.membrane;
    membrane.path = outline_->preview();
    Section alone;
    alone.membranes = {membrane};
    paint_membrane_lines(painter, view_, alone, QRectF(rect()), colours);
}

/// The layers as they would lie; only the line where they would not fit.
void Sheet::paint_next_layers(QPainter& painter) {
    const SheetColours colours = this->colours();
    const Path line = outline_->preview();
    std::vector<Outline> strips;
    try {
        strips = layer_outlines(line, next_.layers_on_left, next_.layers);
    } catch (const InputFault&) {
        painter.setPen(thin(colours.fault, 2, Qt::DashLine));
    }
    painter.drawPolyline(polygon(view_, line));
    QColor fill = colours.accent;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        fill.setAlphaF(next_.layers[i].material.empty() ? 0.0F : i % 2 == 0 ? 0.22F : 0.12F);
        painter.setBrush(fill);
        painter.setPen(thin(colours.accent, 1));
        painter.drawPolygon(polygon(view_, strips[i]));
    }
}

void Sheet::paint_outline(QPainter& painter) {
    const SheetColours colours = this->colours();
    if (outline_) {
        const Outline outline = outline_->preview();
        const bool line = outline_->shape() == OutlineTool::Shape::line;
        painter.setPen(thin(colours.accent, 2));
        QColor fill = colours.accent;
        fill.setAlphaF(0.12F);
        painter.setBrush(outline.size() > 2 && !line ? QBrush(fill) : QBrush(Qt::NoBrush));
        if (tool_ == Tool::layers) paint_next_layers(painter);
        else if (line && tool_ == Tool::membrane) paint_next_line(painter);
        else if (line && tool_ == Tool::hidden) paint_hidden_line(painter, view_, outline, QRectF(rect()), colours.accent, 1.5);
        else if (line) paint_edit_preview(painter, outline);
        else if (outline.size() > 2) painter.drawPolygon(polygon(view_, outline));
        else painter.drawPolyline(polygon(view_, outline));
        if (outline_->shape() == OutlineTool::Shape::height && shown()) {
            painter.setPen(thin(colours.accent, 2, Qt::DashLine));
            paint_level_line(painter, next_.level, outline_->target().y);
            text_on(painter, view_.to_pixels(outline_->target()) + QPointF(12, -10), QString::fromStdString(length_text(to_mm(outline_->target().y))), colours);
        }
        painter.setPen(thin(colours.accent, 2));
        painter.setBrush(colours.paper);
        for (const Point p : outline_->corners()) painter.drawEllipse(view_.to_pixels(p), 4, 4);
        const bool by_length = (line && !(tool_ == Tool::dimension && outline_->corners().size() > 1)) || outline_->shape() == OutlineTool::Shape::polygon;
        if (outline.size() > 1 && by_length) {
            const Point a = outline[outline.size() - 2], b = outline.back();
            const QPointF middle = (view_.to_pixels(a) + view_.to_pixels(b)) / 2;
            const double length = std::hypot(to_mm(b.x - a.x), to_mm(b.y - a.y));
            // A short part leaves the right-hand side to the name of what holds the cursor.
            const bool short_part = QLineF(view_.to_pixels(a), view_.to_pixels(b)).length() < 90;
            text_on(painter, middle + (short_part ? QPointF(-72, -12) : QPointF(8, -8)), QString::fromStdString(length_text(length)), colours);
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

}  // namespace wallfoot
