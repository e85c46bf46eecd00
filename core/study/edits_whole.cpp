// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/arrangement/resolve.hpp"
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

/// How many elements are met at the top or bottom of a drawing: solid between the air of two spaces. As many places as
/// numbers: they are called "top", "top-2", … from left to right (find_elements).
std::size_t elements_at(const Section& section, const Arrangement& arrangement, CutSide side) {
    struct Run {
        bool solid = false;
        int space = -1;
        bool operator==(const Run&) const = default;
    };
    std::vector<Run> runs;
    for (const SidePart& part : along_side(arrangement, side)) {
        const Face& face = arrangement.faces[static_cast<std::size_t>(part.face)];
        const Run run{face.kind == FaceKind::solid, face.kind == FaceKind::air && face.space >= 0 && face.space < static_cast<int>(section.spaces.size()) ? face.space : -1};
        if (runs.empty() || runs.back() != run) runs.push_back(run);
    }
    std::size_t count = 0;
    for (std::size_t i = 1; i + 1 < runs.size(); ++i)
        count += runs[i].solid && runs[i - 1].space >= 0 && runs[i + 1].space >= 0 && runs[i - 1].space != runs[i + 1].space;
    return count;
}

std::string numbered(CutSide side, std::size_t place) {
    return std::string(word_of(cut_side_words, side)) + (place == 0 ? std::string() : "-" + std::to_string(place + 1));
}

/// The place that each statement of a side goes to among `count` elements, as apply_overrides gives them out: by its
/// name, else the first that is left; -1 for none, and for those of other sides.
std::vector<int> places_of(const Section& section, CutSide side, std::size_t count) {
    std::vector<int> places(section.elements.size(), -1);
    std::vector<bool> taken(count);
    for (std::size_t e = 0; e < section.elements.size(); ++e) {
        if (section.elements[e].cut != side) continue;
        std::size_t place = 0;
        while (place < count && (taken[place] || numbered(side, place) != section.elements[e].id)) ++place;
        if (place == count) place = static_cast<std::size_t>(std::find(taken.begin(), taken.end(), false) - taken.begin());
        if (place == count) continue;
        taken[place] = true;
        places[e] = static_cast<int>(place);
    }
    return places;
}

/// At the top and bottom elements are numbered from left to right, so that mirrored the n-th of m is number m + 1 - n.
/// Refuses where what is stated would go to another one.
void renumber_mirrored(const Section& before, Section& mirrored) {
    const auto on = [&](CutSide side) { return std::any_of(before.elements.begin(), before.elements.end(), [&](const ElementOverride& of) { return of.cut == side; }); };
    if (!on(CutSide::top) && !on(CutSide::bottom)) return;
    Section drawn = before;
    drawn.beyond.clear();  // the sides as drawn
    const Arrangement arrangement = arrange(Study{}, drawn);
    for (const CutSide side : {CutSide::top, CutSide::bottom}) {
        if (!on(side)) continue;
        const auto refuse = [&](const char* code, const std::string& element) { edit::refuse(code, {{"element", element}, {"side", word_of(cut_side_words, side)}}); };
        if (!arrangement.sound())
            for (const ElementOverride& of : before.elements)
                if (of.cut == side && (arrangement.faces.empty() || of.id.starts_with(numbered(side, 0) + "-"))) refuse("mirror-unsettled", of.id);
        const std::size_t count = elements_at(before, arrangement, side);
        const auto places = places_of(before, side, count);
        const auto turned = [&](int place) { return place < 0 ? -1 : static_cast<int>(count) - 1 - place; };
        for (std::size_t e = 0; e < places.size(); ++e)
            if (places[e] >= 0 && mirrored.elements[e].id == numbered(side, static_cast<std::size_t>(places[e])))
                mirrored.elements[e].id = numbered(side, static_cast<std::size_t>(turned(places[e])));
        const auto then = places_of(mirrored, side, count);
        for (std::size_t e = 0; e < places.size(); ++e)
            if (then[e] != turned(places[e])) refuse("mirror-other-element", before.elements[e].id);
    }
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
    renumber_mirrored(section, result);
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
