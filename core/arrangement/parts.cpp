// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/parts.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/arrangement/region.hpp"
#include "core/geometry/outline_check.hpp"
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/study/names.hpp"

namespace wallfoot {

namespace {

using edit::refuse;

constexpr Micrometres margin = 10 * um_per_mm;

Piece taken_out(const Piece& like) {
    Piece piece;
    piece.id = like.id;
    piece.fill = Fill::cutout;
    piece.outline = like.outline;
    piece.holes = like.holes;
    return piece;
}

/// What can be seen of one piece of a section of pieces alone, face by face.
std::vector<FaceBorder> seen_of(const Section& alone, int piece) {
    const Arrangement arrangement = arrange(Study{}, alone);
    std::vector<FaceBorder> seen;
    for (std::size_t face = 0; face < arrangement.faces.size(); ++face)
        if (arrangement.faces[face].piece == piece) seen.push_back(border_of(arrangement, static_cast<int>(face)));
    return seen;
}

Rect extent_of(const std::vector<const Piece*>& pieces) {
    const Point first = pieces.front()->outline.front();
    Rect box{first.x, first.y, first.x, first.y};
    for (const Piece* piece : pieces)
        for (const Point p : piece->outline)
            box = {std::min(box.left, p.x), std::min(box.bottom, p.y), std::max(box.right, p.x), std::max(box.top, p.y)};
    return {box.left - margin, box.bottom - margin, box.right + margin, box.top + margin};
}

/// Whether the boxes around two pieces have area in common.
bool may_overlap(const Piece& a, const Piece& b) {
    const Rect p = extent_of({&a}), q = extent_of({&b});  // each wider by the margin on every side
    return std::min(p.right, q.right) - std::max(p.left, q.left) > 2 * margin && std::min(p.top, q.top) - std::max(p.bottom, q.bottom) > 2 * margin;
}

/// All on the left of the line from a to b as far as it matters inside `box`. Whole multiples of b − a keep it on the line.
Outline left_half(Point a, Point b, const Rect& box) {
    const double length = std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
    const double far = static_cast<double>(std::abs(a.x - box.left) + std::abs(a.x - box.right) + std::abs(a.y - box.bottom) + std::abs(a.y - box.top));
    const auto times = static_cast<Micrometres>(std::ceil(far / length)) + 1;
    const Point d{(b.x - a.x) * times, (b.y - a.y) * times}, left{-d.y, d.x};
    return {{a.x - d.x, a.y - d.y}, {a.x + d.x, a.y + d.y}, {a.x + d.x + left.x, a.y + d.y + left.y}, {a.x - d.x + left.x, a.y - d.y + left.y}};
}

Area2 size_of(const FaceBorder& part) {
    Area2 size = area2(part.outline);
    for (const Outline& hole : part.holes) size -= area2(hole);
    return size;
}

std::set<Point> corners_of(const Section& section) {
    std::set<Point> corners;
    for (const Piece& piece : section.pieces) {
        corners.insert(piece.outline.begin(), piece.outline.end());
        for (const Outline& hole : piece.holes) corners.insert(hole.begin(), hole.end());
    }
    for (const Membrane& membrane : section.membranes) corners.insert(membrane.path.begin(), membrane.path.end());
    return corners;
}

/// Takes out corners that a line runs straight through, where nothing else has one.
void straighten(Outline& ring, const std::set<Point>& needed) {
    for (std::size_t i = 0; ring.size() > 3 && i < ring.size();) {
        const Point before = ring[(i + ring.size() - 1) % ring.size()], after = ring[(i + 1) % ring.size()];
        if (cross(before, ring[i], after) == 0 && !needed.contains(ring[i])) ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
        else ++i;
    }
}

}  // namespace

Section split_piece(const Section& section, const std::string& id, Point a, Point b) {
    const auto found = std::find_if(section.pieces.begin(), section.pieces.end(), [&](const Piece& piece) { return piece.id == id; });
    if (found == section.pieces.end()) refuse("edit-unknown-id", {{"id", id}});
    if (a == b) refuse("split-misses", {}, a);
    Section alone;
    alone.cut = extent_of({&*found});
    std::vector<FaceBorder> parts;
    // What one half covers of the piece leaves the part in the other.
    for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
        Piece half = taken_out(*found);
        half.holes.clear();
        half.outline = left_half(from, to, alone.cut);
        alone.pieces = {taken_out(*found), half};
        const auto seen = seen_of(alone, 0);
        if (seen.empty()) refuse("split-misses", {}, a);
        parts.insert(parts.end(), seen.begin(), seen.end());
    }
    std::stable_sort(parts.begin(), parts.end(), [](const FaceBorder& p, const FaceBorder& q) { return size_of(p) > size_of(q); });
    Section result = section;
    const auto at = found - section.pieces.begin();
    std::vector<Point> corners;
    std::vector<std::string> ids{id};
    result.pieces.erase(result.pieces.begin() + at);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Piece piece = *found;
        if (i > 0) ids.push_back(piece.id = edit::free_id(result, "p"));
        piece.outline = parts[i].outline;
        piece.holes = parts[i].holes;
        edit::check_piece(piece);
        corners.insert(corners.end(), piece.outline.begin(), piece.outline.end());
        for (const Outline& hole : piece.holes) corners.insert(corners.end(), hole.begin(), hole.end());
        result.pieces.insert(result.pieces.begin() + at + static_cast<std::ptrdiff_t>(i), std::move(piece));
    }
    edit::insert_corners(result, corners);
    for (Group& group : result.groups)
        if (std::find(group.members.begin(), group.members.end(), id) != group.members.end()) group.members.insert(group.members.end(), ids.begin() + 1, ids.end());
    return result;
}

Section merge_pieces(const Section& section, const std::vector<std::string>& ids) {
    std::vector<const Piece*> pieces;
    for (const Piece& piece : section.pieces)
        if (std::find(ids.begin(), ids.end(), piece.id) != ids.end()) pieces.push_back(&piece);
    if (pieces.size() < 2 || pieces.size() != ids.size()) {
        for (const auto& id : ids)
            if (!find_piece(section, id)) refuse("edit-unknown-id", {{"id", id}});
        refuse("merge-apart");
    }
    for (const Piece* piece : pieces)
        if (piece->fill != pieces[0]->fill || piece->filled_with != pieces[0]->filled_with || piece->moisture != pieces[0]->moisture)
            refuse("merge-unequal", {}, piece->outline.front());
    // The merged piece lies where the topmost did: what lies between and over a lower one would be hidden by it.
    for (const Piece* between = pieces.front() + 1; between < pieces.back(); ++between) {
        if (std::find(pieces.begin(), pieces.end(), between) != pieces.end()) continue;
        for (const Piece* piece : pieces)
            if (piece < between && may_overlap(*piece, *between)) refuse("merge-between", {{"piece", shown_name(*between)}}, between->outline.front());
    }
    // The holes in what a frame around all of them shows are their outer borders; what it shows inside one is a hole of theirs.
    Section alone;
    alone.cut = extent_of(pieces);
    Piece frame = taken_out(*pieces[0]);
    frame.holes.clear();
    frame.outline = rectangle_outline({alone.cut.left, alone.cut.bottom}, {alone.cut.right, alone.cut.top});
    alone.pieces.push_back(frame);
    for (const Piece* piece : pieces) alone.pieces.push_back(taken_out(*piece));
    Piece merged = *pieces.back();
    merged.outline.clear();
    merged.holes.clear();
    for (FaceBorder& part : seen_of(alone, 0)) {
        const bool around = std::find(part.outline.begin(), part.outline.end(), Point{alone.cut.left, alone.cut.bottom}) != part.outline.end();
        if (around && part.holes.size() != 1) refuse("merge-apart", {}, pieces[0]->outline.front());
        if (around) merged.outline = std::move(part.holes.front());
        else if (part.holes.empty()) merged.holes.push_back(std::move(part.outline));
        else refuse("merge-apart", {}, part.holes.front().front());  // a piece inside a hole of another
    }
    if (merged.outline.empty()) refuse("merge-apart", {}, pieces[0]->outline.front());
    Section result = section;
    for (const Piece* piece : pieces)
        if (piece->id != merged.id) result = delete_piece(result, piece->id);
    Piece& place = edit::with_id(result.pieces, merged.id);
    place.outline.clear();
    place.holes.clear();
    const std::set<Point> needed = corners_of(result);
    straighten(merged.outline, needed);
    for (Outline& hole : merged.holes) straighten(hole, needed);
    edit::check_piece(merged);
    place = std::move(merged);
    return result;
}

}  // namespace wallfoot
