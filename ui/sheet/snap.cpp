// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/snap.hpp"

#include <QCoreApplication>
#include <QLineF>
#include <algorithm>
#include <cmath>
#include <optional>

#include "core/arrangement/arrangement.hpp"

namespace wallfoot {

namespace {

QPointF mm_of(Point p) { return {to_mm(p.x), to_mm(p.y)}; }
double between(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }

QPointF nearest_on(QPointF a, QPointF b, QPointF p) {
    const QPointF d = b - a;
    const double length2 = QPointF::dotProduct(d, d);
    const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - a, d) / length2, 0.0, 1.0) : 0.0;
    return a + t * d;
}

Point on_grid(QPointF mm, double step) {
    const double limit = to_mm(coordinate_limit);
    const auto place = [&](double v) { return from_mm(std::clamp(std::round(v / step) * step, -limit, limit)); };
    return {place(mm.x()), place(mm.y())};
}

/// Keeps the nearest candidate within reach.
struct Nearest {
    QPointF cursor;
    double reach;
    std::optional<Point> best;
    void offer(Point p) {
        const double d = between(mm_of(p), cursor);
        if (d <= reach && (d < reach || !best)) {
            reach = d;
            best = p;
        }
    }
};

bool contains(const Outline& outline, Point p) {
    bool inside = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point a = outline[i], b = outline[(i + 1) % outline.size()];
        const auto turn = cross(a, b, p);
        if (turn == 0 && std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y && p.y <= std::max(a.y, b.y))
            return true;
        if ((a.y > p.y) != (b.y > p.y) && (turn > 0) == (b.y > a.y)) inside = !inside;
    }
    return inside;
}

}  // namespace

QString name_of(SnapKind kind) {
    const char* names[] = {QT_TRANSLATE_NOOP("Snap", "corner"), QT_TRANSLATE_NOOP("Snap", "crossing"), QT_TRANSLATE_NOOP("Snap", "midpoint"),
                           QT_TRANSLATE_NOOP("Snap", "on edge"), QT_TRANSLATE_NOOP("Snap", "in line"), QT_TRANSLATE_NOOP("Snap", "guide"), QT_TRANSLATE_NOOP("Snap", "grid"), QT_TRANSLATE_NOOP("Snap", "free")};
    return QCoreApplication::translate("Snap", names[static_cast<int>(kind)]);
}

Snapper::Snapper(const Section& section, const std::vector<Point>& moving) {
    const auto moves = [&](Point p) { return std::binary_search(moving.begin(), moving.end(), p); };
    const auto add_line = [&](Point a, Point b) {
        if (a != b && !moves(a) && !moves(b)) lines_.push_back({a, b});
    };
    const auto add_corner = [&](Point p) {
        if (!moves(p)) corners_.push_back(p);
    };
    const auto add_outline = [&](const Outline& outline) {
        for (std::size_t i = 0; i < outline.size(); ++i) {
            add_corner(outline[i]);
            add_line(outline[i], outline[(i + 1) % outline.size()]);
        }
    };
    for (const auto& piece : section.pieces) {
        add_outline(piece.outline);
        for (const auto& hole : piece.holes) add_outline(hole);
    }
    for (const auto& membrane : section.membranes)
        for (std::size_t i = 0; i < membrane.path.size(); ++i) {
            add_corner(membrane.path[i]);
            if (i > 0) add_line(membrane.path[i - 1], membrane.path[i]);
        }
    const Rect& cut = section.cut;
    add_outline({{cut.left, cut.bottom}, {cut.right, cut.bottom}, {cut.right, cut.top}, {cut.left, cut.top}});
    const Micrometres middle = cut.left + cut.width() / 2;
    for (const Level* level : {&section.floor, &section.ground, &section.dpc}) {
        if (const auto left = level_at(*level, cut, cut.left)) add_line({cut.left, *left}, {middle, *left});
        if (const auto right = level_at(*level, cut, cut.right)) add_line({middle, *right}, {cut.right, *right});
    }
}

void Snapper::add_line(Point a, Point b) {
    corners_.push_back(a);
    corners_.push_back(b);
    if (a != b) lines_.push_back({a, b});
}

Snap Snapper::snap(QPointF mm, double radius_mm, double grid_mm, std::optional<Point> last) const {
    Nearest corner{mm, radius_mm, {}};
    for (const Point p : corners_) corner.offer(p);
    if (corner.best) return {*corner.best, SnapKind::corner};

    std::vector<Line> near;
    for (const Line& line : lines_)
        if (between(nearest_on(mm_of(line.a), mm_of(line.b), mm), mm) <= radius_mm) near.push_back(line);
    constexpr std::size_t most_crossed = 100;  // from afar many lines are near each other
    Nearest crossing{mm, radius_mm, {}};
    for (std::size_t i = 0; i < std::min(near.size(), most_crossed); ++i)
        for (std::size_t j = i + 1; j < std::min(near.size(), most_crossed); ++j) {
            QPointF at;
            const QLineF one(mm_of(near[i].a), mm_of(near[i].b)), other(mm_of(near[j].a), mm_of(near[j].b));
            if (one.intersects(other, &at) == QLineF::BoundedIntersection) crossing.offer({from_mm(at.x()), from_mm(at.y())});
        }
    const bool plumb = last && std::abs(to_mm(last->x) - mm.x()) <= radius_mm, level = last && std::abs(to_mm(last->y) - mm.y()) <= radius_mm;
    for (const Line& line : near) {
        const QLineF drawn(mm_of(line.a), mm_of(line.b));
        QPointF at;
        const double x = last ? to_mm(last->x) : 0, y = last ? to_mm(last->y) : 0;
        if (plumb && drawn.intersects({x, mm.y() - radius_mm, x, mm.y() + radius_mm}, &at) == QLineF::BoundedIntersection) crossing.offer({last->x, from_mm(at.y())});
        if (level && drawn.intersects({mm.x() - radius_mm, y, mm.x() + radius_mm, y}, &at) == QLineF::BoundedIntersection) crossing.offer({from_mm(at.x()), last->y});
    }
    if (crossing.best) return {*crossing.best, SnapKind::crossing};

    Nearest midpoint{mm, radius_mm, {}};
    for (const Line& line : near) midpoint.offer({line.a.x + (line.b.x - line.a.x) / 2, line.a.y + (line.b.y - line.a.y) / 2});
    if (midpoint.best) return {*midpoint.best, SnapKind::midpoint};

    if (!near.empty()) {
        const auto reach = [&](const Line& line) { return between(nearest_on(mm_of(line.a), mm_of(line.b), mm), mm); };
        const Line line = *std::min_element(near.begin(), near.end(), [&](const Line& l, const Line& r) { return reach(l) < reach(r); });
        const QPointF on = nearest_on(mm_of(line.a), mm_of(line.b), mm);
        Point at{from_mm(on.x()), from_mm(on.y())};
        // Along an axis-parallel edge the other coordinate still follows the grid, so that round numbers stay round.
        const Point rounded = on_grid(on, grid_mm);
        if (line.a.x == line.b.x) at.y = std::clamp(rounded.y, std::min(line.a.y, line.b.y), std::max(line.a.y, line.b.y));
        if (line.a.y == line.b.y) at.x = std::clamp(rounded.x, std::min(line.a.x, line.b.x), std::max(line.a.x, line.b.x));
        return {at, SnapKind::on_edge};
    }
    Point at = on_grid(mm, grid_mm);
    if (plumb != level) {
        (plumb ? at.x : at.y) = plumb ? last->x : last->y;
        return {at, SnapKind::in_line};
    }
    SnapKind kind = SnapKind::grid;
    for (const bool upright : {true, false}) {
        double reach = radius_mm;
        for (const Guide& guide : guides_) {
            const double off = std::abs(to_mm(guide.at) - (upright ? mm.x() : mm.y()));
            if (guide.upright != upright || off > reach) continue;
            reach = off;
            (upright ? at.x : at.y) = guide.at;
            kind = SnapKind::guide;
        }
    }
    return {at, kind};
}

Point free_point(QPointF mm) { return on_grid(mm, 0.1); }
Snap grid_point(QPointF mm, double grid_mm) { return {on_grid(mm, grid_mm), SnapKind::grid}; }

double grid_step_mm(double pixels_per_mm) {
    double step = 1;
    while (step < 1000 && step * pixels_per_mm < 2) step *= 10;
    return step;
}

std::vector<std::size_t> pieces_at(const Section& section, Point p) {
    std::vector<std::size_t> found;
    for (std::size_t i = section.pieces.size(); i-- > 0;) {
        const Piece& piece = section.pieces[i];
        if (!contains(piece.outline, p)) continue;
        if (std::none_of(piece.holes.begin(), piece.holes.end(), [&](const Outline& hole) { return contains(hole, p); })) found.push_back(i);
    }
    return found;
}

std::vector<std::pair<std::size_t, std::size_t>> holes_at(const Section& section, Point p) {
    std::vector<std::pair<std::size_t, std::size_t>> found;
    for (std::size_t i = section.pieces.size(); i-- > 0;)
        for (std::size_t h = 0; h < section.pieces[i].holes.size(); ++h)
            if (contains(section.pieces[i].holes[h], p)) found.emplace_back(i, h);
    return found;
}

}  // namespace wallfoot
