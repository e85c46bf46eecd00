// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "core/exchange/drawing.hpp"
#include "core/study/edits.hpp"

namespace wallfoot {

namespace {

// mm of the section. Lettering of 2.5 mm is the smallest commonly written on a drawing (common practice, no source).
constexpr double lettering = 25, gap = 12, over = 12, tick = 15;

Place mm_of(Point p) { return {to_mm(p.x), to_mm(p.y)}; }
Place along(Place from, Place way, double by) { return {from.x + by * way.x, from.y + by * way.y}; }

/// The way from one place to another, of length 1; nothing when they are as good as the same.
std::optional<Place> way_between(Place a, Place b, double least = 1e-9) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    if (length <= least) return {};
    return Place{(b.x - a.x) / length, (b.y - a.y) / length};
}

/// The line, a helping line from either point to it, an oblique stroke at either end, and what it says above it as it
/// is read from below or from the right.
void add_dimension(Drawing& drawing, const Dimension& dimension, int layer) {
    const std::string words = dimension_words(dimension);
    const auto add = [&](Place a, Place b) { drawing.strokes.push_back({{a, b}, false, layer, words}); };
    const auto [from, to] = dimension_line(dimension);
    const auto way = way_between(from, to);
    if (!way) return;
    add(along(from, *way, -over), along(to, *way, over));
    for (const auto& [point, end] : {std::pair{dimension.from, from}, {dimension.to, to}}) {
        if (const auto side = way_between(mm_of(point), end, gap)) add(along(mm_of(point), *side, gap), along(end, *side, over));
        const Place slope{(way->x - way->y) / std::sqrt(2.0), (way->y + way->x) / std::sqrt(2.0)};
        add(along(end, slope, -tick), along(end, slope, tick));
    }
    const bool backwards = way->x < 0 || (way->x == 0 && way->y < 0);
    const Place read = backwards ? Place{-way->x, -way->y} : *way;
    const Place middle{(from.x + to.x) / 2, (from.y + to.y) / 2};
    drawing.writings.push_back({along(middle, {-read.y, read.x}, lettering / 3), lettering, std::atan2(read.y, read.x) * 180 / std::acos(-1.0), true, layer, words});
}

void add_lines(Drawing& drawing, const Note& note, int layer) {
    Place at = mm_of(note.at);
    for (std::size_t begin = 0; begin <= note.text.size();) {
        const std::size_t end = std::min(note.text.find('\n', begin), note.text.size());
        drawing.writings.push_back({at, lettering, 0, false, layer, note.text.substr(begin, end - begin)});
        at.y -= 1.5 * lettering;
        begin = end + 1;
    }
}

}  // namespace

Drawing plain_drawing(const Section& section) {
    Drawing drawing;
    drawing.mm_per_unit = 1;
    for (const char* name : {"pieces", "membranes", "levels", "cut", "dimensions", "texts"}) drawing.layers.push_back({name, true});
    const auto add = [&](int layer, const std::vector<Point>& points, bool closed, const std::string& name) {
        Stroke& stroke = drawing.strokes.emplace_back();
        for (const Point p : points) stroke.points.push_back(mm_of(p));
        stroke.closed = closed;
        stroke.layer = layer;
        stroke.name = name;
    };
    for (const Piece& piece : section.pieces) {
        const std::string& name = piece.name.empty() ? piece.id : piece.name;
        add(0, piece.outline, true, name);
        for (const Outline& hole : piece.holes) add(0, hole, true, name);
    }
    for (const Membrane& membrane : section.membranes) add(1, membrane.path, false, membrane.id);
    const Rect& cut = section.cut;
    const Micrometres middle = cut.left + cut.width() / 2;
    for (const auto& [level, name] : {std::pair{&section.floor, "floor"}, {&section.ground, "ground"}, {&section.dpc, "dpc"}}) {
        if (level->both) add(2, {{cut.left, *level->both}, {cut.right, *level->both}}, false, name);
        if (level->left) add(2, {{cut.left, *level->left}, {middle, *level->left}}, false, name);
        if (level->right) add(2, {{middle, *level->right}, {cut.right, *level->right}}, false, name);
    }
    add(3, {{cut.left, cut.bottom}, {cut.right, cut.bottom}, {cut.right, cut.top}, {cut.left, cut.top}}, true, "");
    for (const Dimension& dimension : section.dimensions) add_dimension(drawing, dimension, 4);
    for (const Note& note : section.texts) add_lines(drawing, note, 5);
    return drawing;
}

}  // namespace wallfoot
