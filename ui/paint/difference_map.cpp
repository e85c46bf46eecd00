// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/difference_map.hpp"

#include <limits>

#include "solver/field/contours.hpp"
#include "ui/paint/field_raster.hpp"
#include "ui/paint/labels.hpp"

namespace wallfoot {
namespace {

constexpr int hatch_spacing = 7;       // pixels, from one stroke to the next
constexpr double unseen_share = 0.02;  // of the scale: what is neither warmer nor colder to the eye is not hatched

std::vector<float> kelvins(const View& view, double ratio, const Findings& findings, QSize size) {
    std::vector<float> values(static_cast<std::size_t>(size.width()) * static_cast<std::size_t>(size.height()), std::numeric_limits<float>::quiet_NaN());
    const Solution& solution = *findings.solution;
    raster_field(view, ratio, solution, solution.temperatures_for(findings.temperatures), [&](int row, int from, int to, double kelvin, double step) {
        float* line = values.data() + static_cast<std::size_t>(row) * static_cast<std::size_t>(size.width());
        for (int x = from; x < to; ++x, kelvin += step) line[x] = static_cast<float>(kelvin);
    });
    return values;
}

/// True on a stroke that rises to the right.
bool on_stroke(int x, int y, double ratio) {
    const int spacing = std::max(3, static_cast<int>(hatch_spacing * ratio)), width = std::max(1, static_cast<int>(ratio));
    return (x + y) % spacing < width;
}

QRgb painted_colour(double kelvin, DifferenceScale scale, int x, int y, double ratio) {
    const QColor colour = difference_colour(kelvin / scale.end);
    return kelvin < -unseen_share * scale.end && on_stroke(x, y, ratio) ? colour.darker(150).rgb() : colour.rgb();
}

}  // namespace

TemperatureDifference temperature_difference(const View& view, double device_pixel_ratio, const Findings& of, const Findings& base) {
    TemperatureDifference result;
    result.size = device_size(view, device_pixel_ratio);
    result.ratio = device_pixel_ratio;
    result.kelvin = kelvins(view, device_pixel_ratio, of, result.size);
    const std::vector<float> before = kelvins(view, device_pixel_ratio, base, result.size);
    for (std::size_t i = 0; i < before.size(); ++i) {
        result.kelvin[i] -= before[i];
        if (!std::isnan(result.kelvin[i])) result.largest = std::max(result.largest, std::abs(static_cast<double>(result.kelvin[i])));
    }
    return result;
}

DifferenceScale difference_scale(double largest) {
    constexpr double least = 0.01;  // K: below it nothing differs that could be felt or measured
    const double step = nice_step(std::max(largest, least), 5);
    return {step * std::ceil(std::max(largest, least) / step - 1e-6), step};
}

QImage difference_map(const TemperatureDifference& difference, DifferenceScale scale) {
    QImage image(difference.size, QImage::Format_ARGB32_Premultiplied);
    if (image.isNull()) return image;
    image.fill(Qt::transparent);
    image.setDevicePixelRatio(difference.ratio);
    const int width = difference.size.width();
    const auto band = [&](int x, int y) {
        const float kelvin = difference.kelvin[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
        // Bands are told apart at every step but 0: where nothing differs, the sign of nothing would draw lines.
        return std::isnan(kelvin) ? std::numeric_limits<int>::min() : static_cast<int>(kelvin / scale.step);
    };
    for (int y = 0; y < difference.size.height(); ++y) {
        auto* line = reinterpret_cast<QRgb*>(image.scanLine(y));
        for (int x = 0; x < width; ++x) {
            const int here = band(x, y);
            if (here == std::numeric_limits<int>::min()) continue;
            line[x] = painted_colour(difference.kelvin[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)], scale, x, y, difference.ratio);
            const auto parts = [&](int other) { return other != here && other != std::numeric_limits<int>::min(); };
            if ((x + 1 < width && parts(band(x + 1, y))) || (y + 1 < difference.size.height() && parts(band(x, y + 1)))) line[x] = qRgb(0x40, 0x40, 0x40);
        }
    }
    return image;
}

void paint_difference_key(QPainter& painter, QRectF where, DifferenceScale scale, const SheetColours& colours) {
    if (where.isEmpty()) return;
    painter.save();
    const QFont font = sheet_font(12);
    const double line = label_size(font, QStringLiteral("0")).height();
    painter.setFont(font);
    painter.setPen(colours.ink);
    painter.drawText(QRectF(where.left(), where.top(), where.width(), line), Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip, caption("key-difference"));
    const QRect bar = QRectF(where.left() + 14, where.top() + line + 2, where.width() - 28, std::max(8.0, where.height() - 2 * line - 8)).toRect();
    painter.setRenderHint(QPainter::Antialiasing, false);
    QImage colour_bar(bar.size(), QImage::Format_RGB32);
    for (int y = 0; y < bar.height(); ++y)
        for (int x = 0; x < bar.width(); ++x) colour_bar.setPixel(x, y, painted_colour((2 * (x + 0.5) / bar.width() - 1) * scale.end, scale, x, y, 1));
    painter.drawImage(bar.topLeft(), colour_bar);
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(bar);
    const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(scale.step) - 1e-9))), steps = static_cast<int>(std::lround(scale.end / scale.step));
    const int every = std::max(1, static_cast<int>(std::ceil(2.0 * steps * 44 / bar.width())));
    for (int k = -steps; k <= steps; ++k) {
        const int x = bar.left() + static_cast<int>(std::lround((k + steps) * bar.width() / (2.0 * steps)));
        painter.drawLine(x, bar.top(), x, bar.bottom() + (k % every == 0 ? 4 : 0));
        if (k % every == 0)
            painter.drawText(QRectF(x - 25, bar.bottom() + 4, 50, line), Qt::AlignHCenter | Qt::AlignVCenter | Qt::TextDontClip, (k > 0 ? QStringLiteral("+") : QString()) + number(k * scale.step, decimals));
    }
    painter.restore();
}

}  // namespace wallfoot
