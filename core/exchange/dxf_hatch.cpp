// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/dxf_hatch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wallfoot::dxf {

namespace {

constexpr double in_radians = std::numbers::pi / 180;

struct Odd {};  // counts and numbers disagree

/// Reads the pairs of a hatch in their order, which is all that tells its numbers apart.
class Boundary {
  public:
    Boundary(const Entity& hatch, const Affine& to, double tolerance) : at_(hatch.begin()), end_(hatch.end()), to_(to), tolerance_(tolerance) {}

    std::vector<Stroke> read() {
        std::vector<Stroke> outlines;
        while (at_ < end_ && at_->code != 91) ++at_;
        if (at_ == end_) return outlines;
        const int paths = count(91);
        for (int path = 0; path < paths; ++path) {
            constexpr int is_polyline = 2;
            Stroke stroke = count(92) & is_polyline ? polyline_path() : edge_path();
            if (!stroke.points.empty()) outlines.push_back(std::move(stroke));
            for (int sources = at_ < end_ && at_->code == 97 ? count(97) : 0; sources > 0; --sources) need(330);
        }
        return outlines;
    }

  private:
    const Pair& need(int code) {
        if (at_ >= end_ || at_->code != code) throw Odd();
        return *at_++;
    }
    double number(int code) { return number_of(need(code)); }
    double number_if(int code, double absent) { return at_ < end_ && at_->code == code ? number(code) : absent; }
    int count(int code) {
        const int n = whole_of(need(code));
        if (n < 0) throw Odd();
        return n;
    }
    int count_if(int code, int absent) { return at_ < end_ && at_->code == code ? count(code) : absent; }
    Place point(int code) {
        const double x = number(code);
        return {x, number(code + 10)};
    }

    Stroke polyline_path() {
        const bool bulges = count_if(72, 0);
        count_if(73, 1);
        Vertices vertices;
        for (int n = count(93); n > 0; --n) {
            const Place p = point(10);
            vertices.push_back({p, bulges ? number_if(42, 0) : 0});
        }
        return bulged(vertices, true, to_, tolerance_);  // the edge of an area, whatever it says
    }

    /// Edges may be written in any sense: each is turned so that it goes on where the last one ended.
    Stroke edge_path() {
        Stroke outline;
        outline.closed = true;
        auto& points = outline.points;
        for (int n = count(93); n > 0; --n) {
            std::vector<Place> part = edge();
            if (part.size() < 2) continue;
            const auto away = [](Place a, Place b) { return std::hypot(a.x - b.x, a.y - b.y); };
            if (!points.empty() && away(points.back(), part.back()) < away(points.back(), part.front())) std::reverse(part.begin(), part.end());
            const bool joins = !points.empty() && away(points.back(), part.front()) <= tolerance_;
            points.insert(points.end(), part.begin() + joins, part.end());
        }
        return outline;
    }

    std::vector<Place> edge() {
        switch (count(72)) {
            case 1: {
                const Place a = point(10), b = point(11);
                return {to_(a), to_(b)};
            }
            case 2: {
                const Place centre = point(10);
                const double r = number(40);
                return arc({centre, {r, 0}, {0, r}}, 1);
            }
            case 3: {
                const Place centre = point(10), major = point(11);
                const double ratio = number(40);
                return arc({centre, major, {-major.y * ratio, major.x * ratio}}, ratio);
            }
            case 4: return spline();
            default: throw Odd();
        }
    }

    /// Angles in degrees; a clockwise arc counts them clockwise as well. Those of an ellipse are true angles.
    std::vector<Place> arc(Arc arc, double ratio) {
        double from = number(50), to = number(51);
        if (std::abs(from) > 1e5 || std::abs(to) > 1e5) throw Odd();
        while (to <= from) to += 360;
        const bool whole = to - from >= 360 - 1e-9;
        const double sense = count_if(73, 1) ? 1 : -1;
        const auto parameter = [&](double angle) {
            const double turns = std::floor(angle / 360 + 0.5), rest = (angle - 360 * turns) * in_radians;
            return sense * (std::atan2(std::sin(rest), std::cos(rest) * std::abs(ratio)) + 2 * std::numbers::pi * turns);
        };
        arc.from = parameter(from);
        arc.to = whole ? arc.from + sense * 2 * std::numbers::pi : parameter(to);
        std::vector<Place> points{to_(arc.at(arc.from))};
        arc.append(points, to_, tolerance_);
        return points;
    }

    std::vector<Place> spline() {
        Spline spline;
        spline.degree = count(94);
        const bool rational = count_if(73, 0);
        count_if(74, 0);
        const int knots = count(95), control = count(96);
        for (int i = 0; i < knots; ++i) spline.knots.push_back(number(40));
        for (int i = 0; i < control; ++i) {
            spline.control.push_back(point(10));
            if (rational) spline.weights.push_back(number_if(42, 1));
        }
        // Fit points may follow, told by the same code as the source objects: only points come behind theirs.
        if (at_ < end_ && at_->code == 97 && at_ + 1 < end_ && (at_[1].code == 11 || at_[1].code == 12 || at_->value == "0")) {
            for (int fits = count(97); fits > 0; --fits) point(11);
            if (at_ < end_ && at_->code == 12) point(12);
            if (at_ < end_ && at_->code == 13) point(13);
        }
        if (!spline.sound()) throw Odd();
        std::vector<Place> points{to_(spline.at(spline.begin()))};
        spline.append(points, to_, tolerance_);
        return points;
    }

    const Pair* at_;
    const Pair* end_;
    const Affine& to_;
    double tolerance_;
};

}  // namespace

Stroke bulged(const Vertices& vertices, bool closed, const Affine& to, double tolerance) {
    Stroke stroke;
    stroke.closed = closed;
    for (std::size_t i = 0; i < vertices.size(); ++i) {
        stroke.points.push_back(to(vertices[i].at));
        const bool last = i + 1 == vertices.size();
        if (last && !closed) break;
        const Vertex& next = vertices[last ? 0 : i + 1];
        const double bulge = vertices[i].bulge, chord = std::hypot(next.at.x - vertices[i].at.x, next.at.y - vertices[i].at.y);
        if (std::abs(bulge) < 1e-9 || chord == 0) continue;
        arc_of_bulge(vertices[i].at, next.at, bulge).append(stroke.points, to, tolerance);
        stroke.points.pop_back();  // the vertex itself comes next
    }
    return stroke;
}

std::optional<std::vector<Stroke>> hatch_outlines(const Entity& hatch, const Affine& to, double tolerance) {
    try {
        return Boundary(hatch, to, tolerance).read();
    } catch (const Odd&) {
        return std::nullopt;
    }
}

}  // namespace wallfoot::dxf
