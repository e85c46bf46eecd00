// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "ui/paint/paint.hpp"

namespace wallfoot {
namespace {

struct Corner {
    double x, y, t;  ///< device pixels; t in table steps
};

/// Fills linear triangles in spans. A pixel belongs to the triangle its centre lies in; an edge is always computed from
/// its upper to its lower end, so two triangles agree on it to the last bit and leave no seam.
class Raster {
  public:
    explicit Raster(QImage& image) : image_(image) {
        for (int i = 0; i < steps; ++i) table_[i] = temperature_colour(i / (steps - 1.0)).rgba();
    }
    static constexpr int steps = 1024;

    void fill(std::array<Corner, 3> c) {
        std::sort(c.begin(), c.end(),
                  [](const Corner& a, const Corner& b) { return a.y < b.y || (a.y == b.y && a.x < b.x); });
        const int first = std::max(0, first_centre(c[0].y)), last = std::min(image_.height(), first_centre(c[2].y));
        if (first >= last) return;
        const double area = (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[2].x - c[0].x) * (c[1].y - c[0].y);
        if (area == 0) return;
        const double tx = ((c[1].t - c[0].t) * (c[2].y - c[0].y) - (c[2].t - c[0].t) * (c[1].y - c[0].y)) / area;
        const double ty = ((c[2].t - c[0].t) * (c[1].x - c[0].x) - (c[1].t - c[0].t) * (c[2].x - c[0].x)) / area;
        for (int row = first; row < last; ++row) {
            const double y = row + 0.5;
            const double longest = edge_x(c[0], c[2], y);
            const double shorter = y < c[1].y ? edge_x(c[0], c[1], y) : edge_x(c[1], c[2], y);
            const int from = std::max(0, first_centre(std::min(longest, shorter)));
            const int to = std::min(image_.width(), first_centre(std::max(longest, shorter)));
            if (from < to) span(row, from, to, c[0].t + tx * (from + 0.5 - c[0].x) + ty * (y - c[0].y), tx);
        }
    }

  private:
    static double edge_x(const Corner& a, const Corner& b, double y) {
        return a.x + (y - a.y) * ((b.x - a.x) / (b.y - a.y));
    }
    static int first_centre(double v) { return static_cast<int>(std::ceil(std::clamp(v, -1e6, 1e6) - 0.5)); }

    void span(int row, int from, int to, double t, double step) {
        QRgb* line = reinterpret_cast<QRgb*>(image_.scanLine(row));
        for (int x = from; x < to; ++x, t += step)
            line[x] = table_[static_cast<int>(std::clamp(t, 0.0, steps - 1.0) + 0.5)];
    }

    QImage& image_;
    std::array<QRgb, steps> table_{};
};

}  // namespace

QImage heat_map(const View& view, double device_pixel_ratio, const Solution& solution,
                const std::vector<double>& temperatures, TemperatureRange range) {
    const QSize size(static_cast<int>(std::ceil(view.viewport.width() * device_pixel_ratio)),
                     static_cast<int>(std::ceil(view.viewport.height() * device_pixel_ratio)));
    QImage image(size, QImage::Format_ARGB32_Premultiplied);
    if (image.isNull()) return image;
    image.fill(Qt::transparent);
    image.setDevicePixelRatio(device_pixel_ratio);

    const double scale = view.pixels_per_mm * device_pixel_ratio / 1000;  // of micrometres
    const double x0 = (view.viewport.width() / 2 - view.centre_mm.x() * view.pixels_per_mm) * device_pixel_ratio;
    const double y0 = (view.viewport.height() / 2 + view.centre_mm.y() * view.pixels_per_mm) * device_pixel_ratio;
    const double span = range.high > range.low ? range.high - range.low : 1;
    const auto field = solution.temperatures_for(temperatures);
    if (field.size() != solution.triangles.size()) throw std::logic_error("heat_map: sizes differ");

    Raster raster(image);
    for (std::size_t i = 0; i < field.size(); ++i) {
        std::array<Corner, 6> n{};
        for (int k = 0; k < 6; ++k) n[k].t = (field[i][k] - range.low) / span * (Raster::steps - 1);
        for (int k = 0; k < 3; ++k) {
            const auto& p = solution.points[solution.triangles[i][k]];
            n[k].x = x0 + scale * p[0];
            n[k].y = y0 - scale * p[1];
        }
        const auto [left, right] = std::minmax({n[0].x, n[1].x, n[2].x});
        const auto [top, bottom] = std::minmax({n[0].y, n[1].y, n[2].y});
        if (right < 0 || left > size.width() || bottom < 0 || top > size.height()) continue;
        for (int k = 0; k < 3; ++k) {
            const Corner &a = n[(k + 1) % 3], &b = n[(k + 2) % 3];
            n[3 + k].x = (a.x + b.x) / 2;
            n[3 + k].y = (a.y + b.y) / 2;
        }
        raster.fill({n[0], n[5], n[4]});
        raster.fill({n[1], n[3], n[5]});
        raster.fill({n[2], n[4], n[3]});
        raster.fill({n[3], n[4], n[5]});
    }
    return image;
}

}  // namespace wallfoot
