// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/dxf_curves.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/exchange/dxf.hpp"

namespace wallfoot::dxf {

namespace {

constexpr int most_halvings = 7;

double off_chord(Place p, Place a, Place b) {
    const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
    return length > 0 ? std::abs(dx * (p.y - a.y) - dy * (p.x - a.x)) / length : std::hypot(p.x - a.x, p.y - a.y);
}

void halve(std::vector<Place>& points, const Curve& curve, double t0, Place p0, double t1, Place p1, double tolerance, int depth) {
    const double middle = (t0 + t1) / 2;
    const Place p = curve(middle);
    const bool flat = off_chord(p, p0, p1) <= tolerance && off_chord(curve((t0 + middle) / 2), p0, p1) <= tolerance && off_chord(curve((middle + t1) / 2), p0, p1) <= tolerance;
    if (depth < most_halvings && !flat) {
        halve(points, curve, t0, p0, middle, p, tolerance, depth + 1);
        halve(points, curve, middle, p, t1, p1, tolerance, depth + 1);
    } else {
        points.push_back(p1);
    }
}

}  // namespace

Affine Affine::after(const Affine& inner) const {
    const Place x{a * inner.a + c * inner.b, b * inner.a + d * inner.b}, y{a * inner.c + c * inner.d, b * inner.c + d * inner.d};
    const Place o = (*this)({inner.e, inner.f});
    return {x.x, x.y, y.x, y.y, o.x, o.y};
}

void append_curve(std::vector<Place>& points, const Curve& curve, const Affine& to, double t0, double t1, int pieces, double tolerance) {
    const Curve shown = [&](double t) { return to(curve(t)); };
    Place before = shown(t0);
    for (int i = 1; i <= pieces; ++i) {
        const double from = t0 + (t1 - t0) * (i - 1) / pieces, until = i == pieces ? t1 : t0 + (t1 - t0) * i / pieces;
        const Place p = shown(until);
        halve(points, shown, from, before, until, p, tolerance, 0);
        before = p;
    }
}

Place Arc::at(double t) const {
    const double c = std::cos(t), s = std::sin(t);
    return {centre.x + c * major.x + s * minor.x, centre.y + c * major.y + s * minor.y};
}

void Arc::append(std::vector<Place>& points, const Affine& shown, double tolerance) const {
    const int pieces = std::clamp(static_cast<int>(std::ceil(std::abs(to - from) / (std::numbers::pi / 4) - 1e-9)), 1, 16);
    append_curve(points, [this](double t) { return at(t); }, shown, from, to, pieces, tolerance);
}

Arc arc_of_bulge(Place p, Place q, double bulge) {
    // The centre lies on the perpendicular bisector, (1 − b²) / 4b times the chord to the left of it.
    const double side = (1 - bulge * bulge) / (4 * bulge);
    const Place centre{(p.x + q.x) / 2 - (q.y - p.y) * side, (p.y + q.y) / 2 + (q.x - p.x) * side};
    const Place arm{p.x - centre.x, p.y - centre.y};
    return {centre, arm, {-arm.y, arm.x}, 0, 4 * std::atan(bulge)};
}

bool Spline::sound() const {
    return degree >= 1 && degree <= 10 && control.size() > static_cast<std::size_t>(degree) && knots.size() == control.size() + static_cast<std::size_t>(degree) + 1 &&
           std::is_sorted(knots.begin(), knots.end()) && begin() < end() && (weights.empty() || weights.size() == control.size()) &&
           std::all_of(weights.begin(), weights.end(), [](double w) { return w > 0; });
}

/// De Boor's scheme with weighted points.
Place Spline::at(double t) const {
    const auto p = static_cast<std::size_t>(degree);
    const auto above = std::upper_bound(knots.begin() + degree, knots.begin() + static_cast<std::ptrdiff_t>(control.size()), t);
    const std::size_t span = static_cast<std::size_t>(above - knots.begin()) - 1;
    std::array<std::array<double, 3>, 11> d{};
    for (std::size_t j = 0; j <= p; ++j) {
        const std::size_t i = span - p + j;
        const double w = weights.empty() ? 1 : weights[i];
        d[j] = {control[i].x * w, control[i].y * w, w};
    }
    for (std::size_t r = 1; r <= p; ++r)
        for (std::size_t j = p; j >= r; --j) {
            const double low = knots[span - p + j], high = knots[span + 1 + j - r];
            const double share = high > low ? (t - low) / (high - low) : 0;
            for (std::size_t k = 0; k < 3; ++k) d[j][k] = (1 - share) * d[j - 1][k] + share * d[j][k];
        }
    return {d[p][0] / d[p][2], d[p][1] / d[p][2]};
}

void Spline::append(std::vector<Place>& points, const Affine& to, double tolerance) const {
    double from = begin();
    for (std::size_t i = static_cast<std::size_t>(degree) + 1; i <= control.size(); ++i) {
        if (points.size() > dxf_point_limit) return;  // the reader refuses it
        if (knots[i] <= from) continue;
        append_curve(points, [this](double t) { return at(t); }, to, from, knots[i], 2, tolerance);
        from = knots[i];
    }
}

}  // namespace wallfoot::dxf
