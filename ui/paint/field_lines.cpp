// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/field_lines.hpp"

#include <algorithm>
#include <cmath>

#include "solver/field/contours.hpp"
#include "ui/paint/clip.hpp"

namespace wallfoot {
namespace {

/// Chains in pixels, cut at the visible area. A closed chain ends where it began.
QList<QPolygonF> in_view(const View& view, const ContourLine& line, const QRectF& shown) {
    QList<QPolygonF> parts;
    QPolygonF part;
    const std::size_t count = line.points.size(), edges = line.closed ? count : count - 1;
    const auto pixels = [&](std::size_t i) {
        return view.to_pixels(line.points[i % count][0] / 1000, line.points[i % count][1] / 1000);
    };
    const auto finish = [&] {
        if (part.size() >= 2) parts.append(part);
        part.clear();
    };
    for (std::size_t i = 0; i < edges; ++i) {
        const QPointF a = pixels(i), b = pixels(i + 1);
        const auto inside = clipped(QLineF(a, b), shown);
        if (!inside) {
            finish();
            continue;
        }
        if (part.isEmpty() || inside->p1() != a) {
            finish();
            part.append(inside->p1());
        }
        if (inside->length() > 0) part.append(inside->p2());
        if (inside->p2() != b) finish();
    }
    finish();
    return parts;
}

/// Leaves out points nearer than a third of a pixel to the one before: fine meshes give many.
QPolygonF thinned(const QPolygonF& chain) {
    QPolygonF out{chain.front()};
    for (qsizetype i = 1; i < chain.size(); ++i)
        if (i + 1 == chain.size() || QLineF(out.back(), chain[i]).length() > 0.35) out.append(chain[i]);
    return out;
}

double length_of(const QPolygonF& chain) {
    double length = 0;
    for (qsizetype i = 0; i + 1 < chain.size(); ++i) length += QLineF(chain[i], chain[i + 1]).length();
    return length;
}

/// Point and direction at a length along a chain.
QLineF along(const QPolygonF& chain, double at) {
    for (qsizetype i = 0; i + 1 < chain.size(); ++i) {
        const QLineF piece(chain[i], chain[i + 1]);
        if (at <= piece.length() || i + 2 == chain.size()) {
            const QPointF p = piece.length() > 0 ? piece.pointAt(std::min(1.0, at / piece.length())) : piece.p1();
            return QLineF(p, p + (piece.p2() - piece.p1()));
        }
        at -= piece.length();
    }
    return {};
}

/// A heat map looks the same on a light and a dark sheet, and dark lines with a light rim read on all of it.
const SheetColours& on_heat() {
    static const SheetColours colours = SheetColours::light();
    return colours;
}

void draw_chains(QPainter& painter, const QList<QPolygonF>& chains, const QPen& pen) {
    QColor casing = on_heat().paper;
    casing.setAlpha(70);  // where lines crowd, their rims must not wash the colours out
    painter.setBrush(Qt::NoBrush);
    // Chain by chain: one path of all of them takes the raster engine many times as long.
    painter.setPen(QPen(casing, pen.widthF() + 1.4, Qt::SolidLine, Qt::FlatCap, Qt::BevelJoin));
    for (const QPolygonF& chain : chains) painter.drawPolyline(chain);
    painter.setPen(pen);
    for (const QPolygonF& chain : chains) painter.drawPolyline(chain);
}

struct LineLabel {
    QPointF centre;
    double angle = 0;  ///< degrees, clockwise on the device, text upright
    QString text;
};

void paint_line_label(QPainter& painter, const LineLabel& label, QSizeF size, const QFont& font) {
    const SheetColours& colours = on_heat();
    painter.save();
    painter.translate(label.centre);
    painter.rotate(label.angle);
    paint_label(painter, QRectF(QPointF(-size.width() / 2, -size.height() / 2), size), label.text, font, colours.ink,
                colours.label_back);
    painter.restore();
}

/// A straight stretch of a chain for its label, where there is room; long chains are asked at several places.
void place_label(const QPolygonF& chain, const QString& text, QSizeF size, LabelPlaces& places,
                 QList<LineLabel>& labels) {
    const double length = length_of(chain);
    if (length < 1.6 * size.width()) return;
    for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9}) {
        const double at = share * length;
        const QPointF a = along(chain, std::max(0.0, at - size.width() / 2)).p1();
        const QPointF b = along(chain, std::min(length, at + size.width() / 2)).p1();
        const QPointF c = along(chain, at).p1();
        if (QLineF(a, b).length() < 0.93 * size.width()) continue;  // bends too much
        double angle = -QLineF(a, b).angle();
        // Read from below or from the right, so that steep neighbours do not stand head to foot.
        if (angle < -105 && angle >= -285) angle += 180;
        if (angle < -285) angle += 360;
        const double turn = angle * 3.14159265358979323846 / 180, co = std::abs(std::cos(turn)),
                     si = std::abs(std::sin(turn));
        const QSizeF box(size.width() * co + size.height() * si, size.width() * si + size.height() * co);
        if (!places.take(box, {c})) continue;
        labels.append({c, angle, text});
        return;
    }
}

/// Arrow head on a heat-flow line, along the flow.
void paint_arrow(QPainter& painter, const QLineF& at) {
    const SheetColours& colours = on_heat();
    const double length = at.length();
    if (!(length > 0)) return;
    const QPointF d = (at.p2() - at.p1()) / length, n(-d.y(), d.x());
    painter.setPen(QPen(colours.paper, 1));
    painter.setBrush(colours.ink);
    painter.drawPolygon(QPolygonF{at.p1() + 7 * d, at.p1() - 4 * d + 4.5 * n, at.p1() - 4 * d - 4.5 * n});
    painter.setBrush(Qt::NoBrush);
}

QRectF visible_rect(const QPainter& painter, const View& view) {
    const QRectF all(QPointF(), view.viewport);
    return painter.hasClipping() ? all & painter.clipBoundingRect() : all;
}

}  // namespace

QPen isotherm_pen() { return QPen(on_heat().ink, 0.9, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin); }

QPen heat_flow_pen() {
    QPen pen(on_heat().ink, 1.5, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin);
    pen.setDashPattern({6, 3.5});
    return pen;
}

double paint_isotherms(QPainter& painter, const View& view, const Solution& solution,
                       const std::vector<double>& temperatures, TemperatureRange range, const QRectF& shown,
                       LabelPlaces& places) {
    if (!(range.high > range.low)) return 0;
    const double step = nice_step(range.high - range.low, 22);
    const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
    const auto lines = contours(solution.points, solution.triangles, solution.neighbours,
                                solution.temperatures_for(temperatures), levels_between(range.low, range.high, step));
    const QFont font = sheet_font(11);
    QList<QPolygonF> chains;
    QList<LineLabel> labels;
    for (const ContourLine& line : lines) {
        const QString text = number(line.level, decimals) + QStringLiteral(" °C");
        QSizeF size = label_size(font, text);
        size.setHeight(size.height() - 2);
        QPolygonF longest;
        for (const QPolygonF& part : in_view(view, line, shown)) {
            chains.append(thinned(part));
            if (longest.isEmpty() || length_of(chains.back()) > length_of(longest)) longest = chains.back();
        }
        if (!longest.isEmpty()) place_label(longest, text, size, places, labels);
    }
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    draw_chains(painter, chains, isotherm_pen());
    for (const LineLabel& label : labels) {
        QSizeF size = label_size(font, label.text);
        size.setHeight(size.height() - 2);
        paint_line_label(painter, label, size, font);
    }
    painter.restore();
    return step;
}

double paint_heat_flow_lines(QPainter& painter, const View& view, const Solution& solution,
                             const std::vector<double>& temperatures, const QRectF& shown) {
    const auto stream = solution.stream_for(temperatures);
    const auto [low, high] = field_span(stream);
    // Below the noise of the solver there is no flow to show.
    if (!(high - low > 1e-9)) return 0;
    const double step = nice_step(high - low, 20);
    // Half a step off the ends: the rim of the body itself is no line, and the outer tubes are as wide as the others.
    std::vector<double> levels;
    for (double level = low + step / 2; level < high - step * 1e-6; level += step) levels.push_back(level);
    QList<QPolygonF> chains;
    QList<QLineF> arrows;
    for (const ContourLine& line : contours(solution.points, solution.triangles, solution.neighbours, stream, levels)) {
        for (const QPolygonF& part : in_view(view, line, shown)) {
            chains.append(thinned(part));
            const double length = length_of(chains.back());
            if (length < 50) continue;
            QLineF at = along(chains.back(), length * 0.8);  // past the insulation, where isotherms crowd
            const QPointF mm = view.to_mm(at.p1());
            const auto flux = solution.flux_at(mm.x() * 1000, mm.y() * 1000, temperatures);
            if (!flux) continue;
            if ((*flux)[0] * at.dx() - (*flux)[1] * at.dy() < 0) at = QLineF(at.p1(), at.p1() - (at.p2() - at.p1()));
            arrows.append(at);
        }
    }
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    draw_chains(painter, chains, heat_flow_pen());
    for (const QLineF& arrow : arrows) paint_arrow(painter, arrow);
    painter.restore();
    return step;
}

double paint_isotherms(QPainter& painter, const View& view, const Solution& solution,
                       const std::vector<double>& temperatures, TemperatureRange range, const SheetColours&) {
    const QRectF shown = visible_rect(painter, view);
    LabelPlaces places(shown.adjusted(3, 3, -3, -3));
    return paint_isotherms(painter, view, solution, temperatures, range, shown, places);
}

double paint_heat_flow_lines(QPainter& painter, const View& view, const Solution& solution,
                             const std::vector<double>& temperatures, const SheetColours&) {
    return paint_heat_flow_lines(painter, view, solution, temperatures, visible_rect(painter, view));
}

}  // namespace wallfoot
