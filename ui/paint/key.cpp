// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "solver/field/contours.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

void paint_key(QPainter& painter, QRectF where, TemperatureRange range, const SheetColours& colours) {
    if (!(range.high > range.low) || where.isEmpty()) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QFont font = sheet_font(12);
    const double line = label_size(font, QStringLiteral("0")).height();
    const bool upright = where.height() > where.width();
    // The unit stands above the bar, the numbers beside an upright bar or below a lying one.
    painter.setFont(font);
    painter.setPen(colours.ink);
    painter.drawText(QRectF(where.left(), where.top(), where.width(), line),
                     Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip, caption("key-temperature"));
    const QRectF bar = upright ? QRectF(where.left(), where.top() + line + 6, std::min(22.0, where.width() / 3),
                                        where.height() - line - 12)
                               : QRectF(where.left() + 8, where.top() + line + 2, where.width() - 24,
                                        std::max(8.0, where.height() - 2 * line - 8));
    constexpr int bands = 128;
    painter.setRenderHint(QPainter::Antialiasing, false);
    for (int i = 0; i < bands; ++i) {
        const double a = static_cast<double>(i) / bands, b = (i + 1.0) / bands;
        const QRectF band = upright ? QRectF(QPointF(bar.left(), bar.bottom() - b * bar.height()),
                                             QPointF(bar.right(), bar.bottom() - a * bar.height()))
                                    : QRectF(QPointF(bar.left() + a * bar.width(), bar.top()),
                                             QPointF(bar.left() + b * bar.width(), bar.bottom()));
        painter.fillRect(band.adjusted(0, 0, 0.6, 0.6) & bar, temperature_colour((a + b) / 2));
    }
    painter.setRenderHint(QPainter::Antialiasing, true);
    painter.setPen(QPen(colours.ink, 1));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(bar);
    const double room = upright ? bar.height() / (1.5 * line) : bar.width() / 44;
    const double step = nice_step(range.high - range.low, std::max(1, static_cast<int>(room)));
    const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
    for (double k = std::ceil(range.low / step - 1e-9); k * step <= range.high + 1e-9 * step; ++k) {
        const double share = (k * step - range.low) / (range.high - range.low);
        const QString text = number(k * step, decimals);
        if (upright) {
            const double y = bar.bottom() - share * bar.height();
            painter.drawLine(QPointF(bar.right(), y), QPointF(bar.right() + 5, y));
            painter.drawText(QRectF(bar.right() + 9, y - line / 2, 60, line),
                             Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip, text);
        } else {
            const double x = bar.left() + share * bar.width();
            painter.drawLine(QPointF(x, bar.bottom()), QPointF(x, bar.bottom() + 4));
            painter.drawText(QRectF(x - 25, bar.bottom() + 4, 50, line),
                             Qt::AlignHCenter | Qt::AlignVCenter | Qt::TextDontClip, text);
        }
    }
    painter.restore();
}

namespace {

struct ScaleBar {
    double width = 0;
    QString text;
    QRectF bar, back;
};

ScaleBar scale_bar(QPointF lower_left, const View& view) {
    const double mm = nice_step(140 / view.pixels_per_mm, 1) > 170 / view.pixels_per_mm
                          ? nice_step(140 / view.pixels_per_mm, 2)
                          : nice_step(140 / view.pixels_per_mm, 1);
    ScaleBar found;
    found.width = mm * view.pixels_per_mm;
    found.text = mm >= 1000 ? number(mm / 1000, 3) + QStringLiteral(" m") : number(mm, 3) + QStringLiteral(" mm");
    const QFont font = sheet_font(12);
    const QSizeF size = label_size(font, found.text), zero = label_size(font, QStringLiteral("0"));
    found.bar = QRectF(lower_left.x() + zero.width() / 2, lower_left.y() - 7, found.width, 6);
    found.back = QRectF(lower_left.x(), found.bar.top() - size.height() - 3, found.width + zero.width() / 2 + size.width() / 2,
                        size.height() + 12);
    return found;
}

}  // namespace

QRectF scale_bar_rect(QPointF lower_left, const View& view) {
    return view.pixels_per_mm > 0 ? scale_bar(lower_left, view).back : QRectF();
}

void paint_scale_bar(QPainter& painter, QPointF lower_left, const View& view, const SheetColours& colours) {
    if (!(view.pixels_per_mm > 0)) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing, false);
    const auto [width, text, bar, back] = scale_bar(lower_left, view);
    painter.fillRect(back, colours.label_back);
    painter.setPen(QPen(colours.ink, 1));
    for (int k = 0; k < 4; ++k) {
        painter.setBrush(k % 2 == 0 ? colours.ink : colours.paper);
        painter.drawRect(QRectF(bar.left() + k * width / 4, bar.top(), width / 4, bar.height()));
    }
    const QFont font = sheet_font(12);
    const QSizeF size = label_size(font, text);
    painter.setFont(font);
    const double y = bar.top() - size.height() - 1;
    painter.drawText(QRectF(bar.left() - 20, y, 40, size.height()), Qt::AlignCenter | Qt::TextDontClip,
                     QStringLiteral("0"));
    painter.drawText(QRectF(bar.right() - size.width() / 2, y, size.width(), size.height()),
                     Qt::AlignCenter | Qt::TextDontClip, text);
    painter.restore();
}

}  // namespace wallfoot
