// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <utility>

#include "core/geometry/outline_check.hpp"
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"

// Edits that take hold of many things at once.
namespace wallfoot {

namespace {

/// Every point of the drawing that lies somewhere; levels and the cut are no points.
template <class F>
void each_point(Section& section, F&& f) {
    for (Piece& piece : section.pieces) {
        for (Point& p : piece.outline) f(p);
        for (Outline& hole : piece.holes)
            for (Point& p : hole) f(p);
    }
    for (Membrane& membrane : section.membranes)
        for (Point& p : membrane.path) f(p);
    for (Space& space : section.spaces)
        for (Point& p : space.at) f(p);
    for (ElementOverride& element : section.elements)
        for (auto* reference : {&element.internal, &element.external})
            if (*reference) f(**reference);
    for (Stretch& stretch : section.stretch)
        for (Path* path : {&stretch.line, &stretch.measure})
            for (Point& p : *path) f(p);
}

CutSide across(CutSide side) {
    return side == CutSide::left ? CutSide::right : side == CutSide::right ? CutSide::left : side;
}

void check_limit(Point p) {
    if (std::abs(p.x) > coordinate_limit || std::abs(p.y) > coordinate_limit)
        edit::refuse("coordinate-too-large", {}, p);
}

}  // namespace

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
    result.beyond.clear();
    for (const auto& [side, beyond] : section.beyond) result.beyond[across(side)] = beyond;
    for (ElementOverride& element : result.elements) element.cut = across(element.cut);
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
    const Micrometres dx = high->x - low->x;
    Piece copy = *original;
    copy.id.clear();
    const auto move = [&](Outline& outline) {
        for (Point& p : outline) {
            p.x += dx;
            check_limit(p);
        }
    };
    move(copy.outline);
    for (Outline& hole : copy.holes) move(hole);
    return add_piece(section, std::move(copy));
}

Section stretch_section(const Section& section, bool upright, Micrometres at, bool beyond, Micrometres by) {
    Section result = section;
    const auto moved = [&](Micrometres value) { return (beyond ? value > at : value < at) ? value + (beyond ? by : -by) : value; };
    each_point(result, [&](Point& p) {
        Micrometres& value = upright ? p.x : p.y;
        value = moved(value);
        check_limit(p);
    });
    if (upright) {
        result.cut.left = moved(result.cut.left);
        result.cut.right = moved(result.cut.right);
    } else {
        result.cut.bottom = moved(result.cut.bottom);
        result.cut.top = moved(result.cut.top);
        for (Level* level : {&result.floor, &result.ground, &result.dpc})
            for (auto* height : {&level->both, &level->left, &level->right})
                if (*height) *height = moved(**height);
    }
    if (result.cut.width() <= 0 || result.cut.height() <= 0) edit::refuse("stretch-too-far");
    for (std::size_t i = 0; i < result.pieces.size(); ++i) {
        const Piece& piece = result.pieces[i];
        if (const auto fault = check_outline(piece.outline)) edit::refuse("stretch-too-far", {}, fault->at);
        for (const Outline& hole : piece.holes)
            if (check_outline(hole) || check_hole(piece.outline, hole)) edit::refuse("stretch-too-far", {}, hole.front());
        // What only shrinks keeps its way round; turned over, it has passed itself.
        if ((area2(piece.outline) > 0) != (area2(section.pieces[i].outline) > 0)) edit::refuse("stretch-too-far", {}, piece.outline.front());
    }
    return result;
}

}  // namespace wallfoot
