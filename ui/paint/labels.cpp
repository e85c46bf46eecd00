// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/labels.hpp"

#include <QFontMetricsF>
#include <algorithm>
#include <cmath>

#include "core/study/names.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

bool LabelPlaces::free(QRectF rect) const {
    if (!bounds_.contains(rect)) return false;
    for (const QRectF& other : taken_)
        if (other.intersects(rect)) return false;
    return true;
}

std::optional<QRectF> LabelPlaces::take(QSizeF size, const QList<QPointF>& centres) {
    for (const QPointF& c : centres) {
        const QRectF rect(c.x() - size.width() / 2, c.y() - size.height() / 2, size.width(), size.height());
        if (!free(rect)) continue;
        taken_.append(rect);
        return rect;
    }
    return std::nullopt;
}

QRectF LabelPlaces::take_anyway(QSizeF size, const QList<QPointF>& centres) {
    QList<QPointF> inside;
    for (QPointF c : centres) {
        const double w = size.width() / 2, h = size.height() / 2;
        c.setX(std::max(bounds_.left() + w, std::min(c.x(), bounds_.right() - w)));
        c.setY(std::max(bounds_.top() + h, std::min(c.y(), bounds_.bottom() - h)));
        inside.append(c);
    }
    if (const auto rect = take(size, inside)) return *rect;
    const QPointF c = inside.value(0);
    const QRectF rect(c.x() - size.width() / 2, c.y() - size.height() / 2, size.width(), size.height());
    taken_.append(rect);
    return rect;
}

QFont sheet_font(double pixels, bool bold) {
    QFont font(QStringLiteral("DejaVu Sans"));
    font.setStyleHint(QFont::SansSerif);
    font.setPixelSize(std::max(1, static_cast<int>(std::lround(pixels))));
    font.setBold(bold);
    return font;
}

QSizeF label_size(const QFont& font, const QString& text) {
    const QFontMetricsF metrics(font);
    return {std::ceil(metrics.horizontalAdvance(text)) + 8, std::ceil(metrics.height()) + 2};
}

void paint_label(QPainter& painter, QRectF where, const QString& text, const QFont& font, QColor ink, QColor back) {
    painter.save();
    painter.setPen(Qt::NoPen);
    painter.setBrush(back);
    painter.drawRoundedRect(where, 2.5, 2.5);
    painter.setPen(ink);
    painter.setFont(font);
    painter.drawText(where, Qt::AlignCenter | Qt::TextSingleLine | Qt::TextDontClip, text);
    painter.restore();
}

QString space_name(const Section& section, const Space& space) { return QString::fromStdString(shown_name(section, space)); }

QString caption(const std::string& code, std::map<std::string, std::string> args) {
    return QString::fromStdString(english(Message{Severity::note, code, std::move(args), std::nullopt, {}}));
}

QString number(double value, int decimals) {
    QString text = QString::number(value, 'f', decimals);
    if (text.contains(QLatin1Char('.'))) {
        while (text.endsWith(QLatin1Char('0'))) text.chop(1);
        if (text.endsWith(QLatin1Char('.'))) text.chop(1);
    }
    if (text == QLatin1String("-0")) text = QStringLiteral("0");
    return text.replace(QLatin1Char('-'), QChar(0x2212));
}

}  // namespace wallfoot
