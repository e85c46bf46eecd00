// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/study/words.hpp"
#include "core/text/message.hpp"

// Edits that take hold of many things at once, and those that make one thing so long.
namespace wallfoot {

namespace {

using edit::check_limit;
using edit::each_point;

CutSide across(CutSide side) {
    return side == CutSide::left ? CutSide::right : side == CutSide::right ? CutSide::left : side;
}

bool along_x(CutSide side) { return side == CutSide::left || side == CutSide::right; }

/// How far out a point lies towards a side.
Micrometres outwards(Point p, CutSide side) {
    const Micrometres along = along_x(side) ? p.x : p.y;
    return side == CutSide::left || side == CutSide::bottom ? -along : along;
}

double run_length(Point a, Point b) { return std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)); }

/// The innermost and the outermost place of a piece towards a side.
std::pair<Micrometres, Micrometres> reach_of(const Piece& piece, CutSide side) {
    const auto [inner, outer] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [&](Point a, Point b) { return outwards(a, side) < outwards(b, side); });
    return {outwards(*inner, side), outwards(*outer, side)};
}

}  // namespace

Micrometres piece_extent(const Piece& piece, CutSide side) {
    const auto [inner, outer] = reach_of(piece, side);
    return outer - inner;
}

Section set_extent(const Section& section, const std::string& id, CutSide side, Micrometres length) {
    if (length <= 0) edit::refuse("extent-not-above-zero");
    Section result = section;
    Piece& piece = edit::with_id(result.pieces, id);
    const auto [inner, outer] = reach_of(piece, side);
    const Micrometres by = (inner + length - outer) * (side == CutSide::left || side == CutSide::bottom ? -1 : 1);
    for (Point& p : piece.outline)
        if (outwards(p, side) == outer) {
            (along_x(side) ? p.x : p.y) += by;
            check_limit(p);
        }
    edit::check_piece(piece);
    const Outline corners = piece.outline;  // what follows changes the piece's own
    edit::insert_corners(result, corners);
    return result;
}

Micrometres membrane_length(const Membrane& membrane) {
    double length = 0;
    for (std::size_t i = 1; i < membrane.path.size(); ++i) length += run_length(membrane.path[i - 1], membrane.path[i]);
    return std::llround(length);
}

Section set_membrane_length(const Section& section, const std::string& id, CutSide side, Micrometres length) {
    const Membrane* membrane = find_membrane(section, id);
    if (!membrane) edit::refuse("edit-unknown-id", {{"id", id}});
    Path path = membrane->path;
    const bool at_front = outwards(path.front(), side) > outwards(path.back(), side);
    if (at_front) std::reverse(path.begin(), path.end());
    const Point before = path[path.size() - 2];
    Point& end = path.back();
    const double now = run_length(before, end), then = now + static_cast<double>(length - membrane_length(*membrane));
    if (then < 1) edit::refuse("membrane-run-used-up", {{"membrane", id}});
    end = {before.x + std::llround(static_cast<double>(end.x - before.x) * then / now), before.y + std::llround(static_cast<double>(end.y - before.y) * then / now)};
    check_limit(end);
    if (at_front) std::reverse(path.begin(), path.end());
    return set_membrane_path(section, id, path);
}

Section mirror_section(const Section& section) {
    Section result = section;
    const Micrometres sum = section.cut.left + section.cut.right;  // about the middle of the cut, which so stays
    each_point(result, [&](Point& p) {
        p.x = sum - p.x;
        check_limit(p);
    });
    for (Piece& piece : result.pieces) {
        std::reverse(piece.outline.begin(), piece.outline.end());
        for (Outline& hole : piece.holes) std::reverse(hole.begin(), hole.end());
    }
    for (Level* level : {&result.floor, &result.ground, &result.dpc}) {
        std::swap(level->left, level->right);
        std::swap(level->left_extra, level->right_extra);
    }
    for (Dimension& dimension : result.dimensions)
        if (dimension.along != "x") dimension.offset = -dimension.offset;
    result.beyond.clear();
    for (const auto& [side, beyond] : section.beyond) result.beyond[across(side)] = beyond;
    for (ElementOverride& element : result.elements) {
        const std::string was = word_of(cut_side_words, element.cut);
        element.cut = across(element.cut);
        // Called by its side, it is called by the other one now.
        if (element.id == was || element.id.starts_with(was + "-")) element.id.replace(0, was.size(), word_of(cut_side_words, element.cut));
    }
    for (Stretch& stretch : result.stretch) stretch.moves = stretch.moves == "left" ? "right" : stretch.moves == "right" ? "left" : stretch.moves;
    for (Underlay& underlay : result.underlays) {
        underlay.origin.x = sum - underlay.origin.x;
        underlay.rotation = underlay.rotation == 0 ? 0 : -underlay.rotation;
        underlay.mirrored = !underlay.mirrored;
        check_limit(underlay.origin);
    }
    return result;
}

Section duplicate_piece(const Section& section, const std::string& id) {
    const Piece* original = find_piece(section, id);
    if (!original) edit::refuse("edit-unknown-id", {{"id", id}});
    const auto [low, high] = std::minmax_element(original->outline.begin(), original->outline.end(), [](Point a, Point b) { return a.x < b.x; });
    return copy_taken(section, {.pieces = {id}}, 1, high->x - low->x, 0);
}

}  // namespace wallfoot
