// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <string>
#include <vector>

#include "core/study/study.hpp"

namespace wallfoot {

/// A line of straight parts; curves are broken up into these.
struct Stroke {
    std::vector<Place> points;
    bool closed = false;  ///< the last point joins the first
    int layer = 0;        ///< index in Drawing::layers
    std::string name = {};  ///< of what it is the outline of, if anything
};

/// One line of text on a drawing.
struct Writing {
    Place at;               ///< left end of its foot, or the middle of it where `centred`
    double height = 0;      ///< of its capitals, as the lengths of the drawing
    double rotation = 0;    ///< degrees anticlockwise
    bool centred = false;
    int layer = 0;          ///< index in Drawing::layers
    std::string text = {};
};

struct DrawingLayer {
    std::string name;
    bool shown = true;  ///< neither switched off nor frozen
};

/// Plain lines on layers, as drawings are exchanged.
struct Drawing {
    std::vector<DrawingLayer> layers;
    std::vector<Stroke> strokes;
    std::vector<Writing> writings = {};     ///< of drawings that go out; none is read
    double mm_per_unit = 0;                 ///< as the file says; 0: it does not say
    std::map<std::string, int> left_out;    ///< what was not understood, by its kind in the file
};

/// The box around points; empty when right < left.
struct Extent {
    double left = 1, bottom = 1, right = 0, top = 0;
    bool empty() const { return right < left; }
    double width() const { return right - left; }
    double height() const { return top - bottom; }
};
/// Around the strokes on the layers that are `wanted` (one flag each).
Extent extent_of(const Drawing& drawing, const std::vector<bool>& wanted);

/// The strokes on the layers that are wanted, moved by (−origin) and then taken to mm.
Drawing in_mm(const Drawing& drawing, const std::vector<bool>& wanted, double mm_per_unit, Place origin);

/// An end that joins nothing.
struct OpenEnd {
    Place at;
    double gap = 0;  ///< to the nearest end of another line, same unit; infinite where there is none
};

/// What strokes become when ends no further apart than a tolerance are joined.
struct Joined {
    std::vector<std::vector<Place>> closed;  ///< outlines, each once
    std::vector<OpenEnd> open;
    int branches = 0;                        ///< places where more than two ends meet: no outline is made there
};
/// Joins ends up to `gap` apart; strokes closed by themselves stay so.
Joined joined(const Drawing& drawing, double gap);

/// The lines of a section by our words for layers: pieces, membranes, levels, cut, dimensions, texts. Outlines are
/// whole: neither what covers a piece nor the cut takes anything from it. Texts are as high as is read on a print at 1:10.
Drawing plain_drawing(const Section& section);

}  // namespace wallfoot
