// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QPainter>
#include <QPolygonF>
#include <memory>
#include <vector>

#include "core/lesson/lesson.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {

/// What a step of a lesson shows of one variant.
struct LessonPicture {
    std::shared_ptr<const Study> study;
    std::shared_ptr<const Findings> findings;
    LessonLayer layer = LessonLayer::materials;
    TemperatureRange range;
    std::optional<Rect> spotlight;
    bool lowest = false;  ///< mark the coldest point
    double share = 0;     ///< W/m that a line of tracers carries; 0 = a round number for these findings
};

/// Space between two dots of a line of tracers, and their radius, pixels.
inline constexpr double tracer_spacing = 26, tracer_radius = 3.2;

/// The view of a step: its centre and width, else the whole cut.
View lesson_view(const LessonStep& step, const Section& section, QSizeF size);
/// Section and layer inside the cut. `ratio`: heat-map pixels per pixel. Returns what a tube of the tracers carries, W/m; 0 =
/// there are none. The dots themselves are painted by paint_tracers.
double paint_lesson(QPainter& painter, const View& view, const LessonPicture& picture, double ratio);
QImage lesson_image(const View& view, double ratio, const LessonPicture& picture);

/// Lines along which tracers drift, in pixels of a view, inside `shown`.
std::vector<QPolygonF> tracer_paths(const View& view, const Findings& findings, const QRectF& shown, double share = 0);
/// What a line of tracers carries in these findings, W/m, a round number; 0 = nothing flows or nothing is solved. `beside`: the
/// share that both pictures can have, from the one where more flows.
double tracer_share(const Findings& findings, const Findings* beside = nullptr);
/// `drift`: how far they have come, pixels.
void paint_tracers(QPainter& painter, const std::vector<QPolygonF>& paths, double drift);

/// The step's picture as SVG; tracers drift by themselves in it where the layer is the heat's flow.
QByteArray lesson_svg(const LessonStep& step, const LessonPicture& picture, QSize size);
/// The same as PNG, with the tracers standing; or as JPEG, a third as large where colours run into each other.
QByteArray lesson_png(const LessonStep& step, const LessonPicture& picture, QSize size, bool jpeg = false);

}  // namespace wallfoot
