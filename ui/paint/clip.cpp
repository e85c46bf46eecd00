// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/clip.hpp"

#include <algorithm>
#include <array>

namespace wallfoot {
namespace {

bool inside_even_odd(const QList<QPolygonF>& rings, QPointF p) {
    bool inside = false;
    for (const QPolygonF& ring : rings) {
        for (qsizetype i = 0; i < ring.size(); ++i) {
            const QPointF a = ring[i], b = ring[(i + 1) % ring.size()];
            if ((a.y() <= p.y()) == (b.y() <= p.y())) continue;
            if (a.x() + (p.y() - a.y()) * (b.x() - a.x()) / (b.y() - a.y()) > p.x()) inside = !inside;
        }
    }
    return inside;
}

}  // namespace

QPolygonF clipped(const QPolygonF& ring, const QRectF& rect) {
    QPolygonF in = ring;
    for (int side = 0; side < 4 && !in.isEmpty(); ++side) {
        const bool vertical = side < 2;
        const double limit = side == 0   ? rect.left()
                             : side == 1 ? rect.right()
                             : side == 2 ? rect.top()
                                         : rect.bottom();
        const double sign = side % 2 == 0 ? 1 : -1;
        const auto depth = [&](QPointF p) { return sign * ((vertical ? p.x() : p.y()) - limit); };
        QPolygonF out;
        for (qsizetype i = 0; i < in.size(); ++i) {
            const QPointF a = in[i], b = in[(i + 1) % in.size()];
            const double da = depth(a), db = depth(b);
            if (da >= 0) out.append(a);
            if ((da >= 0) == (db >= 0)) continue;
            QPointF p = a + da / (da - db) * (b - a);
            if (vertical)
                p.setX(limit);
            else
                p.setY(limit);
            out.append(p);
        }
        in = out;
    }
    return in;
}

std::optional<QLineF> clipped(const QLineF& line, const QRectF& rect) {
    double from = 0, to = 1;
    const double p[4] = {-line.dx(), line.dx(), -line.dy(), line.dy()};
    const double q[4] = {line.x1() - rect.left(), rect.right() - line.x1(), line.y1() - rect.top(),
                         rect.bottom() - line.y1()};
    for (int k = 0; k < 4; ++k) {
        if (p[k] == 0) {
            if (q[k] < 0) return std::nullopt;
        } else if (p[k] < 0) {
            from = std::max(from, q[k] / p[k]);
        } else {
            to = std::min(to, q[k] / p[k]);
        }
    }
    if (from > to) return std::nullopt;
    return QLineF(line.pointAt(from), line.pointAt(to));
}

QList<QLineF> outside_of(const QLineF& line, const QList<QList<QPolygonF>>& areas, const QList<QRectF>& boxes,
                         qsizetype first) {
    QList<double> cuts{0, 1};
    const QRectF box = QRectF(line.p1(), line.p2()).normalized().adjusted(-0.5, -0.5, 0.5, 0.5);
    QList<qsizetype> near;
    for (qsizetype k = first; k < areas.size(); ++k) {
        if (!boxes[k].intersects(box)) continue;
        near.append(k);
        for (const QPolygonF& ring : areas[k]) {
            for (qsizetype i = 0; i < ring.size(); ++i) {
                const QPointF a = ring[i], r = ring[(i + 1) % ring.size()] - a, d = line.p2() - line.p1(),
                              w = a - line.p1();
                const double turn = d.x() * r.y() - d.y() * r.x();
                if (turn != 0) {
                    const double along = (w.x() * r.y() - w.y() * r.x()) / turn,
                                 other = (w.x() * d.y() - w.y() * d.x()) / turn;
                    if (along > 0 && along < 1 && other > -1e-9 && other < 1 + 1e-9) cuts.append(along);
                } else if (w.x() * d.y() == w.y() * d.x() && !d.isNull()) {
                    const double t = QPointF::dotProduct(w, d) / QPointF::dotProduct(d, d);
                    if (t > 0 && t < 1) cuts.append(t);
                }
            }
        }
    }
    if (near.isEmpty()) return {line};
    std::sort(cuts.begin(), cuts.end());
    QList<QLineF> parts;
    for (qsizetype i = 0; i + 1 < cuts.size(); ++i) {
        if (cuts[i + 1] - cuts[i] < 1e-9) continue;
        const QPointF middle = line.pointAt((cuts[i] + cuts[i + 1]) / 2);
        const bool hidden =
            std::any_of(near.begin(), near.end(), [&](qsizetype k) { return inside_even_odd(areas[k], middle); });
        if (!hidden) parts.append({line.pointAt(cuts[i]), line.pointAt(cuts[i + 1])});
    }
    return parts;
}

}  // namespace wallfoot
