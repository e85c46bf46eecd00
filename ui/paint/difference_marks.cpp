// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/difference_marks.hpp"

#include <QPainterPath>
#include <algorithm>

#include "ui/paint/clip.hpp"

namespace wallfoot {

namespace {

constexpr double widest_list = 0.55, highest_list = 0.45;  // of the picture

QString said_text(const Message& message) { return QString::fromStdString(english(message)); }

QStringList list_lines(const MarkedDifferences& differences, const QString& base) {
    QStringList lines{differences.said.empty() ? caption("differences-none", {{"base", base.toStdString()}}) : caption("differences-head", {{"base", base.toStdString()}})};
    for (std::size_t i = 0; i < differences.said.size(); ++i) lines << QStringLiteral("%1   %2").arg(i + 1).arg(said_text(differences.said[i]));
    return lines;
}

struct LaidLine {
    QString text;
    QFont font;
    QRectF where;
};

struct LaidList {
    QList<LaidLine> lines;
    QSizeF size;
};

/// One below the other, each broken at the width of the room; what goes beyond its height is counted in a last line.
LaidList laid_out(const QStringList& texts, const QSizeF& room) {
    constexpr double between = 4;
    LaidList list;
    double y = 0, width = 0;
    const auto add = [&](const QString& text, bool bold) {
        const QFont font = sheet_font(12, bold);
        QRectF box = QFontMetricsF(font).boundingRect(QRectF(0, 0, room.width(), 1e6), Qt::AlignTop | Qt::AlignLeft | Qt::TextWordWrap, text);
        box = QRectF(0, y, std::ceil(box.width()) + 1, std::ceil(box.height()));
        list.lines.append({text, font, box});
        width = std::max(width, box.width());
        y = box.bottom() + between;
    };
    for (qsizetype i = 0; i < texts.size(); ++i) {
        add(texts[i], i == 0);
        const bool last = i + 1 == texts.size();
        const double more = last ? 0 : QFontMetricsF(sheet_font(12)).height() + between;
        if (i < 2 || y - between + more <= room.height()) continue;
        y = list.lines.takeLast().where.top();
        add(caption("differences-more", {{"count", std::to_string(texts.size() - i)}}), false);
        break;
    }
    list.size = QSizeF(width, y - between);
    return list;
}

QString numbers_of(const DifferenceMark& mark) {
    QStringList numbers;
    for (const std::size_t index : mark.said) numbers << QString::number(index + 1);
    return numbers.join(QStringLiteral(", "));
}

QPainterPath path_of(const View& view, const DifferenceMark& mark) {
    QPainterPath path;
    for (const auto& line : mark.lines) {
        for (std::size_t i = 0; i < line.size(); ++i) {
            if (i == 0) path.moveTo(view.to_pixels(line[i]));
            else path.lineTo(view.to_pixels(line[i]));
        }
        if (mark.closed) path.closeSubpath();
    }
    return path;
}

/// Lines one by one and clipped, so that a drawing far out of view costs nothing.
void stroke(QPainter& painter, const View& view, const DifferenceMark& mark, const QRectF& shown) {
    for (const auto& line : mark.lines)
        for (std::size_t i = 0; i + (mark.closed ? 0 : 1) < line.size(); ++i)
            if (const auto part = clipped(QLineF(view.to_pixels(line[i]), view.to_pixels(line[(i + 1) % line.size()])), shown)) painter.drawLine(*part);
}

void paint_number(QPainter& painter, const View& view, const DifferenceMark& mark, const QRectF& shown, const SheetColours& colours, LabelPlaces& places) {
    const QRectF box = path_of(view, mark).boundingRect().adjusted(-1, -1, 1, 1) & shown;
    if (box.isEmpty()) return;
    const QFont font = sheet_font(12, true);
    const QSizeF size = label_size(font, numbers_of(mark)) + QSizeF(6, 2);
    const double dx = size.width() / 2 + 4, dy = size.height() / 2 + 4;
    const QPointF c = box.center();
    const QRectF where = places.take_anyway(size, {c, {box.right() + dx, c.y()}, {box.left() - dx, c.y()}, {c.x(), box.top() - dy}, {c.x(), box.bottom() + dy}});
    painter.setPen(Qt::NoPen);
    painter.setBrush(mark.gone ? colours.label_back : colours.accent);
    painter.drawRoundedRect(where, 4, 4);
    painter.setPen(mark.gone ? QPen(colours.accent, 1.5) : QPen(colours.paper));
    if (mark.gone) painter.setBrush(Qt::NoBrush), painter.drawRoundedRect(where, 4, 4);
    painter.setFont(font);
    painter.drawText(where, Qt::AlignCenter, numbers_of(mark));
    painter.setBrush(Qt::NoBrush);
}

}  // namespace

void paint_difference_marks(QPainter& painter, const View& view, const MarkedDifferences& differences, const QRectF& shown, const SheetColours& colours, LabelPlaces& places) {
    painter.save();
    painter.setBrush(Qt::NoBrush);
    for (const bool gone : {true, false})
        for (const DifferenceMark& mark : differences.marks) {
            if (mark.gone != gone) continue;
            painter.setPen(QPen(colours.paper, gone ? 4 : 6));
            stroke(painter, view, mark, shown);
            painter.setPen(QPen(colours.accent, gone ? 2 : 3, gone ? Qt::DashLine : Qt::SolidLine));
            stroke(painter, view, mark, shown);
        }
    for (const DifferenceMark& mark : differences.marks) paint_number(painter, view, mark, shown, colours, places);
    painter.restore();
}

QRectF difference_list_rect(const QRectF& bounds, const MarkedDifferences& differences, const QString& base) {
    const QSizeF room(bounds.width() * widest_list - 2 * key_margin, bounds.height() * highest_list - 2 * key_margin);
    const QSizeF size = laid_out(list_lines(differences, base), room).size + QSizeF(2 * key_margin, 2 * key_margin);
    return {QPointF(bounds.right() - size.width() - key_margin, bounds.bottom() - size.height() - key_margin), size};
}

void paint_difference_list(QPainter& painter, const QRectF& where, const MarkedDifferences& differences, const QString& base, const SheetColours& colours) {
    painter.save();
    painter.setPen(QPen(colours.accent, 1));
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(where, 4, 4);
    painter.setPen(colours.ink);
    const QRectF text = where.adjusted(key_margin, key_margin, -key_margin, -key_margin);
    // A little more than what was asked for: rounding must not take a line away.
    for (const LaidLine& line : laid_out(list_lines(differences, base), text.size() + QSizeF(0.5, 0.5)).lines) {
        painter.setFont(line.font);
        painter.drawText(line.where.translated(text.topLeft()), Qt::AlignTop | Qt::AlignLeft | Qt::TextWordWrap, line.text);
    }
    painter.restore();
}

}  // namespace wallfoot
