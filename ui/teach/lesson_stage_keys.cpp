// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPainter>
#include <algorithm>
#include <utility>

#include "ui/paint/labels.hpp"
#include "ui/teach/lesson_stage.hpp"

// The picture of a step by keyboard alone: a pointer that is moved, and what is begun and ended with it.
namespace wallfoot {

void LessonStage::put_pointer() {
    if (!picture_.findings || cross_) return;
    const QSizeF size = picture_size();
    cross_ = view_.to_mm(QPointF(size.width() / 2, size.height() / 2));
    update();
    emit pointer_changed();
}

bool LessonStage::drop_pointer() {
    if (!cross_) return false;
    cross_.reset();
    begun_.reset();
    update();
    emit pointer_changed();
    return true;
}

void LessonStage::move_pointer(QPointF by) {
    if (!cross_ || !picture_.findings) return;
    const QSizeF size = picture_size();
    QPointF at = view_.to_pixels(cross_->x(), cross_->y()) + by;
    // Past the border of the picture the section moves instead, as far as its cut goes.
    const Rect& cut = picture_.findings->section->cut;
    QPointF mm = view_.to_mm(at);
    mm = QPointF(std::clamp(mm.x(), to_mm(cut.left), to_mm(cut.right)), std::clamp(mm.y(), to_mm(cut.bottom), to_mm(cut.top)));
    at = view_.to_pixels(mm.x(), mm.y());
    constexpr double border = 12;
    const QPointF inside(std::clamp(at.x(), border, std::max(border, size.width() - border)), std::clamp(at.y(), border, std::max(border, size.height() - border)));
    cross_ = mm;
    if (inside != at) {
        view_.centre_mm = view_.to_mm(QPointF(view_.viewport.width() / 2, view_.viewport.height() / 2) + (at - inside));
        ask();
        emit view_moved();
    }
    if (laying_line()) lay_line(*begun_, *cross_);
    update();
}

void LessonStage::use_pointer() {
    if (!cross_) return put_pointer();
    if (spotlighting_) {
        if (begun_) return finish_spotlight(*begun_, *cross_);
        begun_ = cross_;
    } else if (begun_) {
        return begin_line();
    } else if (asking_) {
        emit guessed(*cross_);
    }
    update();
    emit pointer_changed();
}

void LessonStage::begin_line() {
    if (asking_ || spotlighting_ || !picture_.findings) return;
    if (!cross_) return put_pointer();
    if (begun_) begun_.reset();  // the line stays where it is
    else begun_ = cross_;
    update();
    emit pointer_changed();
}

bool LessonStage::drop_line() {
    if (!line_) return false;
    line_.reset();
    begun_.reset();
    profile_ = {};
    update();
    emit pointer_changed();
    return true;
}

void LessonStage::move_divider(double by) {
    if (!divided()) return;
    divider_ = std::clamp(divider_ + by, 0.0, 1.0);
    update();
}

void LessonStage::zoom(double factor) {
    if (!picture_.findings || view_.pixels_per_mm * factor < 0.001 || view_.pixels_per_mm * factor > 200) return;
    view_ = view_.zoomed_at(cross_ ? view_.to_pixels(cross_->x(), cross_->y()) : QPointF(view_.viewport.width() / 2, view_.viewport.height() / 2), factor);
    ask();
    emit view_moved();
}

void LessonStage::show_help(QStringList lines) {
    help_ = std::move(lines);
    update();
}

void LessonStage::paint_cross(QPainter& painter) const {
    if (!cross_) return;
    const QPointF p = view_.to_pixels(cross_->x(), cross_->y());
    painter.setBrush(Qt::NoBrush);
    for (const auto& [colour, width] : {std::pair(QColor(Qt::white), 6.0), std::pair(SheetColours::light().selection, 2.5)}) {
        painter.setPen(QPen(colour, width));
        painter.drawEllipse(p, 10, 10);
        for (const QPointF& way : {QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)}) painter.drawLine(p + way * 4, p + way * 16);
    }
}

/// One line each: the keys, a tab, what they do.
void LessonStage::paint_help(QPainter& painter) const {
    if (help_.isEmpty()) return;
    const SheetColours colours = SheetColours::light();
    const QFont font = sheet_font(15), bold = sheet_font(15, true);
    const double line = QFontMetricsF(font).height() * 1.25;
    double keys = 0, says = 0;
    for (const QString& one : help_) {
        keys = std::max(keys, QFontMetricsF(bold).horizontalAdvance(one.section(QLatin1Char('\t'), 0, 0)));
        says = std::max(says, QFontMetricsF(font).horizontalAdvance(one.section(QLatin1Char('\t'), 1)));
    }
    const double wide = keys + says + 56, high = line * static_cast<double>(help_.size()) + 28;
    // It is made to fit a small picture.
    const double scale = std::min({magnified_, (width() - 16.0) / wide, (height() - 16.0) / high});
    painter.save();
    painter.translate((width() - wide * scale) / 2, (height() - high * scale) / 2);
    painter.scale(scale, scale);
    painter.setPen(QPen(colours.ink, 2));
    painter.setBrush(Qt::white);
    painter.drawRoundedRect(QRectF(0, 0, wide, high), 8, 8);
    for (qsizetype i = 0; i < help_.size(); ++i) {
        const QRectF row(16, 14 + static_cast<double>(i) * line, wide - 32, line);
        painter.setFont(bold);
        painter.drawText(row, Qt::AlignLeft | Qt::AlignVCenter, help_[i].section(QLatin1Char('\t'), 0, 0));
        painter.setFont(font);
        painter.drawText(row.adjusted(keys + 24, 0, 0, 0), Qt::AlignLeft | Qt::AlignVCenter, help_[i].section(QLatin1Char('\t'), 1));
    }
    painter.restore();
}

}  // namespace wallfoot
