// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/difference_marks.hpp"

#include <QPainterPath>
#include <algorithm>

#include "ui/paint/clip.hpp"

namespace wallfoot {

namespace {

constexpr double widest_list = 0.55, highest_list = 0.45;  // of the picture
constexpr std::size_t most_said = 9;

QString said_text(const Message& message) { return QString::fromStdString(english(message)); }

QStringList list_lines(const MarkedDifferences& differences, const QString& base) {
    QStringList lines{differences.said.empty() ? caption("differences-none", {{"base", base.toStdString()}}) : caption("differences-head", {{"base", base.toStdString()}})};
    for (std::size_t i = 0; i < differences.said.size(); ++i) lines << QStringLiteral("%1   %2").arg(i + 1).arg(said_text(differences.said[i]));
    return lines;
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
    const QFont font = sheet_font(12);
    const QStringList lines = list_lines(differences, base);
    double width = 0;
    for (const QString& line : lines) width = std::max(width, label_size(font, line).width());
    const double rows = std::clamp(std::floor((bounds.height() * highest_list - 2 * key_margin) / key_row), 2.0, static_cast<double>(most_said + 1));
    const QSizeF size(std::min(width + 2 * key_margin, bounds.width() * widest_list), std::min(rows, static_cast<double>(lines.size())) * key_row + 2 * key_margin);
    return {QPointF(bounds.right() - size.width() - key_margin, bounds.bottom() - size.height() - key_margin), size};
}

void paint_difference_list(QPainter& painter, const QRectF& where, const MarkedDifferences& differences, const QString& base, const SheetColours& colours) {
    painter.save();
    painter.setPen(QPen(colours.accent, 1));
    painter.setBrush(colours.label_back);
    painter.drawRoundedRect(where, 4, 4);
    painter.setPen(colours.ink);
    QStringList lines = list_lines(differences, base);
    const auto rows = static_cast<qsizetype>((where.height() - 2 * key_margin) / key_row + 0.5);
    if (lines.size() > rows) {
        const auto left_out = lines.size() - rows + 1;
        lines = lines.first(rows - 1) << caption("differences-more", {{"count", std::to_string(left_out)}});
    }
    const QRectF text = where.adjusted(key_margin, key_margin, -key_margin, -key_margin);
    for (qsizetype i = 0; i < lines.size(); ++i) {
        const QFont font = sheet_font(12, i == 0);
        painter.setFont(font);
        painter.drawText(QRectF(text.left(), text.top() + static_cast<double>(i) * key_row, text.width(), key_row), Qt::AlignVCenter | Qt::AlignLeft, QFontMetricsF(font).elidedText(lines[i], Qt::ElideRight, text.width()));
    }
    painter.restore();
}

}  // namespace wallfoot
