// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/field_raster.hpp"

namespace wallfoot {

QImage heat_map(const View& view, double device_pixel_ratio, const Solution& solution,
                const std::vector<double>& temperatures, TemperatureRange range) {
    constexpr int steps = 1024;
    QImage image(device_size(view, device_pixel_ratio), QImage::Format_ARGB32_Premultiplied);
    if (image.isNull()) return image;
    image.fill(Qt::transparent);
    image.setDevicePixelRatio(device_pixel_ratio);
    std::array<QRgb, steps> table{};
    for (int i = 0; i < steps; ++i) table[static_cast<std::size_t>(i)] = temperature_colour(i / (steps - 1.0)).rgba();
    const double scale = (steps - 1) / (range.high > range.low ? range.high - range.low : 1);
    raster_field(view, device_pixel_ratio, solution, solution.temperatures_for(temperatures), [&](int row, int from, int to, double kelvin, double step) {
        auto* line = reinterpret_cast<QRgb*>(image.scanLine(row));
        double t = (kelvin - range.low) * scale;
        for (int x = from; x < to; ++x, t += step * scale) line[x] = table[static_cast<std::size_t>(std::clamp(t, 0.0, steps - 1.0) + 0.5)];
    });
    return image;
}

}  // namespace wallfoot
