// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "core/study/underlay.hpp"

// Curves as chains of points; not for others.
namespace wallfoot::dxf {

/// x' = a x + c y + e, y' = b x + d y + f.
struct Affine {
    double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
    Place operator()(Place p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }
    /// First `inner`, then this.
    Affine after(const Affine& inner) const;
};

using Curve = std::function<Place(double)>;

/// Appends curve(t) for t from t0 to t1, the first left out, so that no chord is further than `tolerance` from the
/// curve; begins with `pieces` equal steps. The curve is that of the drawing, `to` takes it to where it is shown.
void append_curve(std::vector<Place>& points, const Curve& curve, const Affine& to, double t0, double t1, int pieces, double tolerance);

/// An arc of an ellipse about `centre`: centre + cos t · major + sin t · minor.
struct Arc {
    Place centre, major, minor;
    double from = 0, to = 0;  ///< radians
    Place at(double t) const;
    void append(std::vector<Place>& points, const Affine& to, double tolerance) const;
};
/// Circular arc from p to q whose bulge is tan of a quarter of its angle, anticlockwise when positive.
Arc arc_of_bulge(Place p, Place q, double bulge);

/// A (rational) B-spline; weights may be empty. Nothing when its numbers do not fit together.
struct Spline {
    int degree = 3;
    std::vector<double> knots;
    std::vector<Place> control;
    std::vector<double> weights;
    bool sound() const;
    Place at(double t) const;
    void append(std::vector<Place>& points, const Affine& to, double tolerance) const;
    double begin() const { return knots[static_cast<std::size_t>(degree)]; }
    double end() const { return knots[control.size()]; }
};

}  // namespace wallfoot::dxf
