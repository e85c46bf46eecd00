// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>
#include <QImage>
#include <QPainter>
#include <QPointF>
#include <QString>
#include <map>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "solver/findings/findings.hpp"

// QtGui only: serves the screen, PNG, SVG and later PDF alike. Nothing here keeps state.
namespace wallfoot {

/// From drawing to device-independent pixels: y of the sheet goes up, y of the device down.
struct View {
    double pixels_per_mm = 0.2;
    QPointF centre_mm;  ///< drawing point in the middle of the viewport
    QSizeF viewport;    ///< device-independent pixels
    QPointF to_pixels(Point p) const;
    QPointF to_pixels(double x_mm, double y_mm) const;
    QPointF to_mm(QPointF pixels) const;
    /// The view that shows `rect` with a margin (share of the viewport).
    static View fitting(const Rect& rect, QSizeF viewport, double margin = 0.06);
    /// Same drawing point stays under `pixels`.
    View zoomed_at(QPointF pixels, double factor) const;
    bool operator==(const View&) const = default;
};

/// Colours of the sheet; two tested sets. Nothing is told by colour alone.
struct SheetColours {
    QColor paper, ink, faint, accent, selection, fault, caution, membrane, label_back;
    static SheetColours light();
    static SheetColours dark();
};

struct SectionLook {
    SheetColours colours = SheetColours::light();
    bool hatches = true;  ///< false under a heat map: outlines only
    bool labels = true;   ///< spaces with temperature, levels, membranes
    bool beyond = false;  ///< also show what lies beyond the cut
    bool faults = true;   ///< rings at faults and cautions of the arrangement
};

/// Pieces in painter's order, clipped at the cut, with hatches by kind of material (hatch patterns: see
/// ui/paint/hatches.hpp for the open drawing standard they follow), outlines, membranes by kind, levels, space marks.
/// `arrangement` may be null while a drawing is being edited; with it, air of no space gets a warning hatch and faults
/// and cautions their rings, numbered as arrangement->messages from 1. Paints no background.
void paint_section(QPainter& painter, const View& view, const Study& study, const Section& section,
                   const Arrangement* arrangement, const SectionLook& look);

/// Which turn of its kind's hatch a material has in a section, by id: how often the kind was met before with another
/// material, so that neighbours of one kind are told apart (ISO 128-3).
std::map<std::string, int> hatch_turns(const Study& study, const Section& section);

/// The colour map of temperatures, from t in 0 … 1 (cold … warm): perceptually even and safe for colour-vision defects;
/// named with its open source in the .cpp.
QColor temperature_colour(double t);

struct TemperatureRange {
    double low = 0, high = 20;
};  ///< °C

/// Heat map of the solved body, transparent where there is none, in device pixels (size = viewport × ratio).
QImage heat_map(const View& view, double device_pixel_ratio, const Solution& solution,
                const std::vector<double>& temperatures, TemperatureRange range);

/// Isotherms at whole steps, each labelled with its temperature. Returns the step in K. Lines and labels keep inside
/// the painter's clip; clip at the cut to leave out what lies beyond.
double paint_isotherms(QPainter& painter, const View& view, const Solution& solution,
                       const std::vector<double>& temperatures, TemperatureRange range, const SheetColours& colours);
/// Heat-flow lines: contours of the stream function at equal steps, with an arrow along the flow. Returns what each
/// tube carries, W/m; 0 when nothing flows.
double paint_heat_flow_lines(QPainter& painter, const View& view, const Solution& solution,
                             const std::vector<double>& temperatures, const SheetColours& colours);
/// Colour key with its range and unit, upright or lying by the shape of `where` (about 60 × 200 or 260 × 48), and a
/// scale bar.
void paint_key(QPainter& painter, QRectF where, TemperatureRange range, const SheetColours& colours);
void paint_scale_bar(QPainter& painter, QPointF lower_left, const View& view, const SheetColours& colours);
/// Room the scale bar takes.
QRectF scale_bar_rect(QPointF lower_left, const View& view);

struct PictureOptions {
    QSize size{1600, 1200};  ///< of the painter's device
    bool heat = true;
    SheetColours colours = SheetColours::light();
    double pixel_ratio = 1;  ///< heat-map pixels per pixel of `size` (more for vector output)
};
/// Section with heat map, isotherms, heat-flow lines with the watts a tube carries, key, scale, title: the whole
/// picture.
void paint_picture(QPainter& painter, const Study& study, const Findings& findings, const PictureOptions& options);

}  // namespace wallfoot
