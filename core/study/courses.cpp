// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/courses.hpp"

#include <algorithm>

#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/study/names.hpp"

namespace wallfoot {

namespace {

/// A rectangle's corners; refuses what is none.
Rect rectangle_of(const Piece& piece) {
    const auto [left, right] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point p, Point q) { return p.x < q.x; });
    const auto [low, high] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point p, Point q) { return p.y < q.y; });
    const Rect box{left->x, low->y, right->x, high->y};
    for (const Point p : piece.outline)
        if ((p.x != box.left && p.x != box.right && p.y != box.bottom && p.y != box.top) || !piece.holes.empty()) edit::refuse("equal-not-rectangular", {{"piece", shown_name(piece)}});
    Area2 area = 0;
    for (std::size_t i = 0; i < piece.outline.size(); ++i) {
        const Point p = piece.outline[i], q = piece.outline[(i + 1) % piece.outline.size()];
        area += Area2(p.x) * q.y - Area2(q.x) * p.y;
    }
    if ((area < 0 ? -area : area) != Area2(2) * box.width() * box.height()) edit::refuse("equal-not-rectangular", {{"piece", shown_name(piece)}});
    return box;
}

}  // namespace

std::vector<Course> courses_of(const Section& section, const std::vector<std::string>& ids, Micrometres height) {
    if (height <= 0) edit::refuse("equal-course-height");
    std::vector<Course> courses;
    for (const auto& id : ids) {
        const Piece* found = find_piece(section, id);
        if (!found) edit::refuse("edit-unknown-id", {{"id", id}});
        const Piece& piece = *found;
        const Rect box = rectangle_of(piece);
        const Micrometres step = piece.courses && piece.courses->height > 0 ? piece.courses->height : height;
        Micrometres top = box.top;
        if (piece.courses) {
            // The uppermost course line below the top.
            const Micrometres above = ((box.top - piece.courses->from) % step + step) % step;
            if (above > 0) {
                courses.push_back({id, shown_name(piece), box.left, box.right, std::max(box.bottom, box.top - above), box.top});
                top = box.top - above;
            }
        }
        for (; top > box.bottom; top -= step) courses.push_back({id, shown_name(piece), box.left, box.right, std::max(box.bottom, top - step), top});
    }
    return courses;
}

Section with_course(const Section& section, const Course& course, const std::string& material, std::string* id) {
    Piece block;
    block.outline = rectangle_outline({course.left, course.bottom}, {course.right, course.top});
    block.filled_with = material;
    block.name = course.name;
    if (const Piece* leaf = find_piece(section, course.piece)) block.moisture = leaf->moisture;  // in the same place and condition
    Section result = add_piece(section, block);
    const std::string added = result.pieces.back().id;
    if (id) *id = added;
    std::size_t above = 0;
    for (std::size_t i = 0; i < section.pieces.size(); ++i)
        if (section.pieces[i].id == course.piece) above = i + 1;
    return reorder_piece(result, added, above);
}

}  // namespace wallfoot
