// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/arrangement/clip.hpp"
#include "core/arrangement/resolve.hpp"

namespace wallfoot {
namespace {

void add_ring(std::vector<LabelledSegment>& lines, const Outline& ring, const Rect& cut, int label) {
    const Outline clipped = clip(ring, cut);
    for (std::size_t i = 0; i < clipped.size(); ++i) lines.push_back({clipped[i], clipped[(i + 1) % clipped.size()], label});
}

Rect extent(const Outline& outline) {
    Rect box{outline[0].x, outline[0].y, outline[0].x, outline[0].y};
    for (const Point p : outline) {
        box.left = std::min(box.left, p.x), box.right = std::max(box.right, p.x);
        box.bottom = std::min(box.bottom, p.y), box.top = std::max(box.top, p.y);
    }
    return box;
}

/// A level through one `auto` piece, also where it steps at the middle of the cut.
void add_level(std::vector<LabelledSegment>& lines, const Level& level, const Rect& cut, const Rect& piece, int label) {
    const Rect box{std::max(piece.left, cut.left), std::max(piece.bottom, cut.bottom), std::min(piece.right, cut.right),
                   std::min(piece.top, cut.top)};
    if (level.empty() || box.left >= box.right || box.bottom >= box.top) return;
    const auto line = [&](Micrometres y, Micrometres from, Micrometres to) {
        // One that runs along the border of the cut matters as well: what carries on beyond lies on its other side.
        if (y >= box.bottom && y <= box.top && from < to) lines.push_back({{from, y}, {to, y}, label});
    };
    const Micrometres y_left = *level_at(level, cut, cut.left), y_right = *level_at(level, cut, cut.right);
    if (y_left == y_right) return line(y_left, box.left, box.right);
    const Micrometres middle = cut.left + cut.width() / 2;
    line(y_left, box.left, std::min(box.right, middle));
    line(y_right, std::max(box.left, middle), box.right);
    const Micrometres low = std::max(std::min(y_left, y_right), box.bottom);
    const Micrometres high = std::min(std::max(y_left, y_right), box.top);
    if (box.left < middle && middle < box.right && low < high) lines.push_back({{middle, low}, {middle, high}, label});
}

}  // namespace

Labels labels_of(const Section& section) {
    return {static_cast<int>(section.pieces.size()), static_cast<int>(section.membranes.size())};
}

std::vector<LabelledSegment> drawn_lines(const Section& section) {
    const Labels labels = labels_of(section);
    const Rect& cut = section.cut;
    std::vector<LabelledSegment> lines;
    for (int i = 0; i < labels.pieces; ++i) {
        const Piece& piece = section.pieces[i];
        if (piece.outline.empty()) continue;
        add_ring(lines, piece.outline, cut, i);
        for (const Outline& hole : piece.holes) add_ring(lines, hole, cut, i);
        if (!is_auto(piece)) continue;
        add_level(lines, section.ground, cut, extent(piece.outline), labels.level());
        add_level(lines, section.dpc, cut, extent(piece.outline), labels.level());
    }
    for (int i = 0; i < labels.membranes; ++i) {
        const Path& path = section.membranes[i].path;
        for (std::size_t k = 1; k < path.size(); ++k)
            if (const auto part = clip(path[k - 1], path[k], cut)) lines.push_back({part->first, part->second, labels.membrane(i)});
    }
    add_ring(lines, {{cut.left, cut.bottom}, {cut.right, cut.bottom}, {cut.right, cut.top}, {cut.left, cut.top}}, cut, labels.cut());
    return lines;
}

}  // namespace wallfoot
