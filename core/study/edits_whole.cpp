// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <utility>

#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"

// Edits that take hold of many things at once.
namespace wallfoot {

namespace {

using edit::check_limit;
using edit::each_point;

CutSide across(CutSide side) {
    return side == CutSide::left ? CutSide::right : side == CutSide::right ? CutSide::left : side;
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
    for (Dimension& dimension : result.dimensions)
        if (dimension.along != "x") dimension.offset = -dimension.offset;
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
    return copy_taken(section, {.pieces = {id}}, 1, high->x - low->x, 0);
}

}  // namespace wallfoot
