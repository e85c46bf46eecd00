// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/airspace.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "core/standards/iso6946.hpp"

namespace wallfoot {

namespace {

/// Corners of the convex hull, anticlockwise (monotone chain, exact).
std::vector<Point> convex_hull(std::vector<Point> points) {
    std::sort(points.begin(), points.end());
    points.erase(std::unique(points.begin(), points.end()), points.end());
    std::vector<Point> hull;
    for (int pass = 0; pass < 2; ++pass) {
        const std::size_t first = hull.size();
        for (Point p : points) {
            while (hull.size() >= first + 2 && cross(hull[hull.size() - 2], hull.back(), p) <= 0) hull.pop_back();
            hull.push_back(p);
        }
        hull.pop_back();  // begins the other half
        std::reverse(points.begin(), points.end());
    }
    return hull;
}

/// The rectangle with one side along the unit vector (ux, uy).
EnclosingRectangle rectangle_along(const std::vector<Point>& hull, double ux, double uy) {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    double least[2] = {infinity, infinity}, greatest[2] = {-infinity, -infinity};
    for (Point p : hull) {
        const double x = static_cast<double>(p.x), y = static_cast<double>(p.y);
        const double along[2] = {x * ux + y * uy, y * ux - x * uy};
        for (int i = 0; i < 2; ++i) {
            least[i] = std::min(least[i], along[i]);
            greatest[i] = std::max(greatest[i], along[i]);
        }
    }
    const double side[2] = {greatest[0] - least[0], greatest[1] - least[1]};
    const double middle[2] = {(least[0] + greatest[0]) / 2, (least[1] + greatest[1]) / 2};
    const bool square = std::abs(side[0] - side[1]) <= 1e-9 * side[0];
    const bool first_shorter = square ? std::abs(ux) >= std::abs(uy) : side[0] < side[1];
    EnclosingRectangle result;
    result.shorter_m = std::min(side[0], side[1]) * 1e-6;
    result.longer_m = std::max(side[0], side[1]) * 1e-6;
    result.short_x = first_shorter ? ux : -uy;
    result.short_y = first_shorter ? uy : ux;
    result.middle_x = middle[0] * ux - middle[1] * uy;
    result.middle_y = middle[0] * uy + middle[1] * ux;
    return result;
}

/// A triangle of the airspace on a vertical line through its middle, and the line.
struct Start {
    int triangle = -1;
    Micrometres x = 0;
};

Start start_in(const Arrangement& arrangement, const std::vector<int>& faces, const VerticalRay& ray,
               const EnclosingRectangle& rectangle) {
    const auto middle = static_cast<Micrometres>(std::floor(rectangle.middle_x));
    Start nearest, widest;
    double least = std::numeric_limits<double>::infinity();
    Micrometres greatest = 0;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        if (!std::binary_search(faces.begin(), faces.end(), arrangement.triangle_face[t])) continue;
        const int index = static_cast<int>(t);
        Point corners[3];
        for (std::size_t i = 0; i < 3; ++i)
            corners[i] = arrangement.vertices.at(static_cast<std::size_t>(arrangement.triangles[t][i]));
        const double height = static_cast<double>(corners[0].y + corners[1].y + corners[2].y) / 3;
        const double off = std::abs(height - rectangle.middle_y);
        if (ray.meets(index, middle) && off < least) nearest = {index, middle}, least = off;
        const auto [left, right] = std::minmax({corners[0].x, corners[1].x, corners[2].x});
        if (right - left > greatest) widest = {index, left + (right - left) / 2}, greatest = right - left;
    }
    return nearest.triangle >= 0 ? nearest : widest;
}

/// RULES 4 along d: the warmer end sends the heat to the other.
Direction direction_across(const Section& section, const Arrangement& arrangement, const std::vector<int>& faces,
                           const VerticalRay& ray, const std::vector<double>& temperatures,
                           const EnclosingRectangle& rectangle) {
    if (3 * rectangle.short_y * rectangle.short_y <= rectangle.short_x * rectangle.short_x) return Direction::horizontal;
    const Start start = start_in(arrangement, faces, ray, rectangle);
    const std::optional<double> coldest = coldest_outside(section, temperatures);
    const auto beyond = [&](VerticalRay::Sense sense) -> std::optional<double> {
        const std::optional<int> space = ray.next_space(start.triangle, start.x, sense);
        return space ? std::optional(temperatures.at(static_cast<std::size_t>(*space))) : coldest;
    };
    const std::optional<double> above = beyond(VerticalRay::Sense::up), below = beyond(VerticalRay::Sense::down);
    if (!above || !below || *above == *below) return Direction::horizontal;
    return *above > *below ? Direction::down : Direction::up;
}

}  // namespace

EnclosingRectangle enclosing_rectangle(std::vector<Point> points) {
    const std::vector<Point> hull = convex_hull(std::move(points));
    if (hull.size() < 3) throw std::logic_error("enclosing_rectangle: points on one line");
    EnclosingRectangle best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < hull.size(); ++i) {  // a side of the smallest one lies on a side of the hull
        const Point a = hull[i], b = hull[(i + 1) % hull.size()];
        const double dx = static_cast<double>(b.x - a.x), dy = static_cast<double>(b.y - a.y), long_ = std::hypot(dx, dy);
        const EnclosingRectangle candidate = rectangle_along(hull, dx / long_, dy / long_);
        const double area = candidate.shorter_m * candidate.longer_m;
        if (area < least * (1 - 1e-12)) best = candidate, least = area;
    }
    return best;
}

AirspaceReading read_airspace(const Section& section, const Arrangement& arrangement, const std::vector<int>& faces,
                              const VerticalRay& ray, const std::vector<double>& temperatures) {
    std::vector<Point> points;
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t)
        if (std::binary_search(faces.begin(), faces.end(), arrangement.triangle_face[t]))
            for (int corner : arrangement.triangles[t])
                points.push_back(arrangement.vertices.at(static_cast<std::size_t>(corner)));
    double area_m2 = 0;
    for (int face : faces)
        area_m2 += static_cast<double>(arrangement.faces.at(static_cast<std::size_t>(face)).area2) * 0.5e-12;
    const EnclosingRectangle rectangle = enclosing_rectangle(std::move(points));
    AirspaceReading reading;
    reading.thickness_m = rectangle.shorter_m;
    reading.direction = direction_across(section, arrangement, faces, ray, temperatures, rectangle);
    reading.area_share = area_m2 / (rectangle.shorter_m * rectangle.longer_m);
    reading.length_ratio = rectangle.longer_m / rectangle.shorter_m;
    reading.too_thick = rectangle.shorter_m > iso6946::thickest_airspace_m;
    const double tabled = std::min(rectangle.shorter_m, iso6946::thickest_airspace_m);
    reading.conductivity = rectangle.shorter_m / iso6946::unventilated_airspace_resistance(tabled, reading.direction);
    return reading;
}

}  // namespace wallfoot
