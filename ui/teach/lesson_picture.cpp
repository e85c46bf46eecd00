// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/teach/lesson_picture.hpp"

#include <QBuffer>
#include <QPainterPath>
#include <QSvgGenerator>
#include <algorithm>
#include <cmath>

#include "solver/lesson/heat_seen.hpp"
#include "ui/paint/clip.hpp"
#include "ui/paint/heat_lines.hpp"
#include "ui/paint/section_marks.hpp"
#include "ui/paint/variant_picture.hpp"

namespace wallfoot {

namespace {

constexpr int most_tubes = 24;

/// Inside the cut and the picture.
QRectF lesson_shown(const View& view, const Section& section) { return cut_in_pixels(view, section) & QRectF(QPointF(), view.viewport); }

void paint_spotlight(QPainter& painter, const View& view, const Rect& spot) {
    const QRectF lit(view.to_pixels(Point{spot.left, spot.top}), view.to_pixels(Point{spot.right, spot.bottom}));
    QPainterPath dim;
    dim.addRect(QRectF(QPointF(), view.viewport));
    dim.addRoundedRect(lit, 8, 8);
    painter.fillPath(dim, QColor(255, 255, 255, 150));
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(Qt::white, 6));
    painter.drawRoundedRect(lit, 8, 8);
    painter.setPen(QPen(SheetColours::light().selection, 3));
    painter.drawRoundedRect(lit, 8, 8);
}

/// In the lower left corner, for pictures that leave the window.
void paint_own_key(QPainter& painter, const LessonPicture& picture, QSizeF size) {
    if (picture.layer == LessonLayer::materials || !picture.findings->solution) return;
    const QRectF where(10, size.height() - 62, std::min(300.0, size.width() * 0.5), 52);
    painter.fillRect(where.adjusted(-6, -6, 6, 6), QColor(255, 255, 255, 225));
    paint_key(painter, where, picture.range, SheetColours::light());
}

}  // namespace

View lesson_view(const LessonStep& step, const Section& section, QSizeF size) {
    View view = View::fitting(section.cut, size, 0.02);
    if (step.centre) view.centre_mm = QPointF(to_mm(step.centre->x), to_mm(step.centre->y));
    if (step.width && *step.width > 0 && size.width() > 0) view.pixels_per_mm = std::min(size.width(), size.height() * 1.6) / to_mm(*step.width);
    return view;
}

double paint_lesson(QPainter& painter, const View& view, const LessonPicture& picture, double ratio) {
    const Findings& findings = *picture.findings;
    const Section& section = *findings.section;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF shown = lesson_shown(view, section);
    painter.setClipRect(shown);
    LabelPlaces places(shown.adjusted(4, 4, -4, -4));
    SectionLook look;
    double share = 0;
    if (picture.layer == LessonLayer::materials || !findings.solution) {
        paint_section_body(painter, view, *picture.study, section, &findings.arrangement, look);
        paint_section_marks(painter, view, *picture.study, section, &findings.arrangement, look, places);
    } else {
        const QImage map = heat_map(view, ratio, *findings.solution, findings.temperatures, picture.range);
        const QRect part = QRectF(shown.topLeft() * ratio, shown.size() * ratio).toAlignedRect() & QRect(QPoint(), map.size());
        QImage cut = map.copy(part);  // the SVG painter cannot clip
        cut.setDevicePixelRatio(1);
        painter.drawImage(QRectF(QPointF(part.topLeft()) / ratio, QSizeF(part.size()) / ratio), cut);
        look.hatches = false;
        HeatLook heat;
        heat.range = picture.range;
        heat.isotherms = picture.layer == LessonLayer::isotherms;
        heat.flow_lines = false;
        heat.lowest = picture.lowest ? findings.headline_surface() : nullptr;
        paint_over_heat(painter, view, *picture.study, section, &findings.arrangement, findings, look, heat, shown, places);
        if (picture.layer == LessonLayer::flow) share = heat_tracers(*findings.solution, findings.temperatures, most_tubes, picture.share).share;
    }
    if (picture.spotlight) paint_spotlight(painter, view, *picture.spotlight);
    painter.restore();
    return share;
}

QImage lesson_image(const View& view, double ratio, const LessonPicture& picture) {
    QImage image((view.viewport * ratio).toSize(), QImage::Format_RGB32);
    image.setDevicePixelRatio(ratio);
    image.fill(Qt::white);
    QPainter painter(&image);
    paint_lesson(painter, view, picture, ratio);
    return image;
}

double tracer_share(const Findings& findings, const Findings* beside) {
    const double own = findings.solution ? heat_tracers(*findings.solution, findings.temperatures, most_tubes).share : 0;
    return beside ? std::max(own, tracer_share(*beside)) : own;
}

std::vector<QPolygonF> tracer_paths(const View& view, const Findings& findings, const QRectF& shown, double share) {
    std::vector<QPolygonF> paths;
    if (!findings.solution) return paths;
    for (const TracerLine& line : heat_tracers(*findings.solution, findings.temperatures, most_tubes, share).lines) {
        QPolygonF path;
        const auto finish = [&] {
            if (path.size() > 1) paths.push_back(path);
            path.clear();
        };
        for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
            const auto at = [&](std::size_t k) { return view.to_pixels(line.points[k][0] / 1000, line.points[k][1] / 1000); };
            const auto part = clipped(QLineF(at(i), at(i + 1)), shown);
            if (!part) {
                finish();
                continue;
            }
            if (path.isEmpty()) path.append(part->p1());
            if (QLineF(path.back(), part->p2()).length() > 0.7 || i + 2 == line.points.size()) path.append(part->p2());
        }
        finish();
    }
    return paths;
}

void paint_tracers(QPainter& painter, const std::vector<QPolygonF>& paths, double drift) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    QColor line = SheetColours::light().ink;
    line.setAlpha(90);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(line, 1));
    for (const QPolygonF& path : paths) painter.drawPolyline(path);
    painter.setPen(QPen(Qt::white, 1.4));
    painter.setBrush(SheetColours::light().ink);
    for (const QPolygonF& path : paths) {
        double next = std::fmod(drift, tracer_spacing), done = 0;
        for (qsizetype i = 0; i + 1 < path.size(); ++i) {
            const QLineF piece(path[i], path[i + 1]);
            const double length = piece.length();
            for (; length > 0 && next <= done + length; next += tracer_spacing) painter.drawEllipse(piece.pointAt((next - done) / length), tracer_radius, tracer_radius);
            done += length;
        }
    }
    painter.restore();
}

QByteArray lesson_png(const LessonStep& step, const LessonPicture& picture, QSize size, bool jpeg) {
    const View view = lesson_view(step, *picture.findings->section, size);
    QImage image = lesson_image(view, 1, picture);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    if (picture.layer == LessonLayer::flow) paint_tracers(painter, tracer_paths(view, *picture.findings, lesson_shown(view, *picture.findings->section), picture.share), 0);
    paint_own_key(painter, picture, size);
    painter.end();
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, jpeg ? "JPG" : "PNG", jpeg ? 88 : -1);
    return bytes;
}

QByteArray lesson_svg(const LessonStep& step, const LessonPicture& picture, QSize size) {
    const View view = lesson_view(step, *picture.findings->section, size);
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QSvgGenerator generator;
    generator.setOutputDevice(&buffer);
    generator.setResolution(96);
    generator.setSize(size);
    generator.setViewBox(QRectF(QPointF(), QSizeF(size)));
    QPainter painter(&generator);
    paint_lesson(painter, view, picture, 1.5);
    paint_own_key(painter, picture, size);
    painter.end();
    if (picture.layer != LessonLayer::flow) return bytes;
    // Dots are the round ends of dashes without a length; the dashes move.
    QByteArray moving = "<g fill=\"none\" stroke-linecap=\"round\" class=\"tracers\">\n";
    for (const QPolygonF& path : tracer_paths(view, *picture.findings, lesson_shown(view, *picture.findings->section), picture.share)) {
        QByteArray d;
        for (const QPointF& p : path) d += (d.isEmpty() ? "M" : "L") + QByteArray::number(p.x(), 'f', 1) + " " + QByteArray::number(p.y(), 'f', 1);
        for (const auto& [colour, width] : {std::pair("#ffffff", 8.4), std::pair("#1a1d21", 6.0)})
            moving += "<path d=\"" + d + "\" stroke=\"" + colour + "\" stroke-width=\"" + QByteArray::number(width) + "\" stroke-dasharray=\"0 " + QByteArray::number(tracer_spacing) +
                      "\"><animate attributeName=\"stroke-dashoffset\" from=\"" + QByteArray::number(tracer_spacing) + "\" to=\"0\" dur=\"1s\" repeatCount=\"indefinite\"/></path>\n";
    }
    const qsizetype end = bytes.lastIndexOf("</svg>");
    if (end >= 0) bytes.insert(end, moving + "</g>\n");
    return bytes;
}

}  // namespace wallfoot
