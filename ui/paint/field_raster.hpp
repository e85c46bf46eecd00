// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "ui/paint/paint.hpp"

namespace wallfoot {

/// Fills linear triangles in spans of pixels. A pixel belongs to the triangle its centre lies in; an edge is always computed
/// from its upper to its lower end, so two triangles agree on it to the last bit and leave no seam.
/// `Span`: void(int row, int from, int to, double value at the first, double step).
template <class Span>
class FieldRaster {
  public:
    struct Corner {
        double x, y, value;  ///< device pixels; in the unit of the field
    };

    FieldRaster(QSize size, Span span) : size_(size), span_(std::move(span)) {}

    void fill(std::array<Corner, 3> c) {
        std::sort(c.begin(), c.end(), [](const Corner& a, const Corner& b) { return a.y < b.y || (a.y == b.y && a.x < b.x); });
        const int first = std::max(0, first_centre(c[0].y)), last = std::min(size_.height(), first_centre(c[2].y));
        if (first >= last) return;
        const double area = (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[2].x - c[0].x) * (c[1].y - c[0].y);
        if (area == 0) return;
        const double by_x = ((c[1].value - c[0].value) * (c[2].y - c[0].y) - (c[2].value - c[0].value) * (c[1].y - c[0].y)) / area;
        const double by_y = ((c[2].value - c[0].value) * (c[1].x - c[0].x) - (c[1].value - c[0].value) * (c[2].x - c[0].x)) / area;
        for (int row = first; row < last; ++row) {
            const double y = row + 0.5;
            const double longest = edge_x(c[0], c[2], y);
            const double shorter = y < c[1].y ? edge_x(c[0], c[1], y) : edge_x(c[1], c[2], y);
            const int from = std::max(0, first_centre(std::min(longest, shorter)));
            const int to = std::min(size_.width(), first_centre(std::max(longest, shorter)));
            if (from < to) span_(row, from, to, c[0].value + by_x * (from + 0.5 - c[0].x) + by_y * (y - c[0].y), by_x);
        }
    }

  private:
    static double edge_x(const Corner& a, const Corner& b, double y) { return a.x + (y - a.y) * ((b.x - a.x) / (b.y - a.y)); }
    static int first_centre(double v) { return static_cast<int>(std::ceil(std::clamp(v, -1e6, 1e6) - 0.5)); }

    QSize size_;
    Span span_;
};

/// Size in device pixels of a view.
inline QSize device_size(const View& view, double device_pixel_ratio) {
    return {static_cast<int>(std::ceil(view.viewport.width() * device_pixel_ratio)), static_cast<int>(std::ceil(view.viewport.height() * device_pixel_ratio))};
}

/// Runs over the field of a solution, each triangle as four linear ones.
template <class Span>
void raster_field(const View& view, double device_pixel_ratio, const Solution& solution, const std::vector<std::array<double, 6>>& field, Span span) {
    if (field.size() != solution.triangles.size()) throw std::logic_error("raster_field: sizes differ");
    const QSize size = device_size(view, device_pixel_ratio);
    const double scale = view.pixels_per_mm * device_pixel_ratio / 1000;  // of micrometres
    const double x0 = (view.viewport.width() / 2 - view.centre_mm.x() * view.pixels_per_mm) * device_pixel_ratio;
    const double y0 = (view.viewport.height() / 2 + view.centre_mm.y() * view.pixels_per_mm) * device_pixel_ratio;
    FieldRaster<Span> raster(size, std::move(span));
    for (std::size_t i = 0; i < field.size(); ++i) {
        std::array<typename FieldRaster<Span>::Corner, 6> n{};
        for (int k = 0; k < 6; ++k) n[k].value = field[i][k];
        for (int k = 0; k < 3; ++k) {
            const auto& p = solution.points[solution.triangles[i][k]];
            n[k].x = x0 + scale * p[0];
            n[k].y = y0 - scale * p[1];
        }
        const auto [left, right] = std::minmax({n[0].x, n[1].x, n[2].x});
        const auto [top, bottom] = std::minmax({n[0].y, n[1].y, n[2].y});
        if (right < 0 || left > size.width() || bottom < 0 || top > size.height()) continue;
        for (int k = 0; k < 3; ++k) {
            const auto &a = n[(k + 1) % 3], &b = n[(k + 2) % 3];
            n[3 + k].x = (a.x + b.x) / 2;
            n[3 + k].y = (a.y + b.y) / 2;
        }
        raster.fill({n[0], n[5], n[4]});
        raster.fill({n[1], n[3], n[5]});
        raster.fill({n[2], n[4], n[3]});
        raster.fill({n[3], n[4], n[5]});
    }
}

}  // namespace wallfoot
