// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <utility>

#include "core/geometry/outline_check.hpp"
#include "core/study/corners.hpp"
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"

// Edits of several things at once, of texts and of groups; holes and edges of a piece.
namespace wallfoot {

namespace {

using edit::refuse;
using edit::with_id;

constexpr int most_copies = 200;

void check_has_hole(const Piece& piece, std::size_t hole) {
    if (hole >= piece.holes.size()) refuse("edit-no-hole", {{"piece", piece.name.empty() ? piece.id : piece.name}});
}

/// Sends every point of what is taken somewhere else; what turned over keeps its way round when `reverse`.
Section send(const Section& section, const Taken& taken, const std::function<Point(Point)>& to, bool reverse = false) {
    Section result = section;
    std::map<Point, Point> moved;
    const auto put = [&](std::vector<Point>& line) {
        for (Point& p : line) {
            const Point from = std::exchange(p, to(p));
            edit::check_limit(p);
            moved[from] = p;
        }
    };
    for (const std::string& id : taken.pieces) {
        Piece& piece = with_id(result.pieces, id);
        put(piece.outline);
        for (Outline& hole : piece.holes) put(hole);
        if (reverse) {
            std::reverse(piece.outline.begin(), piece.outline.end());
            for (Outline& hole : piece.holes) std::reverse(hole.begin(), hole.end());
        }
        edit::check_piece(piece);
    }
    for (const std::string& id : taken.membranes) {
        Membrane& membrane = with_id(result.membranes, id);
        put(membrane.path);
        edit::check_path(membrane);
    }
    edit::carry_ends(result, moved);
    for (const std::string& id : taken.dimensions) {
        // Ends on corners that went along are there already.
        const Dimension before = with_id(const_cast<Section&>(section).dimensions, id);
        Dimension& dimension = with_id(result.dimensions, id);
        dimension.from = to(before.from);
        dimension.to = to(before.to);
        edit::check_limit(dimension.from);
        edit::check_limit(dimension.to);
    }
    for (const std::string& id : taken.texts) {
        Point& at = with_id(result.texts, id).at;
        at = to(at);
        edit::check_limit(at);
    }
    return result;
}

template <class Thing>
const Thing& need(const std::vector<Thing>& things, const std::string& id) {
    const Thing* thing = edit::found_in(things, id);
    if (!thing) refuse("edit-unknown-id", {{"id", id}});
    return *thing;
}

Point shifted(Point p, Micrometres dx, Micrometres dy) {
    p = {p.x + dx, p.y + dy};
    edit::check_limit(p);
    return p;
}

}  // namespace

std::size_t corners_of(const Section& section) {
    std::size_t corners = 0;
    for (const Piece& piece : section.pieces) {
        corners += piece.outline.size();
        for (const Outline& hole : piece.holes) corners += hole.size();
    }
    for (const Membrane& membrane : section.membranes) corners += membrane.path.size();
    return corners;
}

Section move_taken(const Section& section, const Taken& taken, Micrometres dx, Micrometres dy) {
    Section result = send(section, taken, [&](Point p) { return Point{p.x + dx, p.y + dy}; });
    for (const std::string& id : taken.pieces)
        if (Piece& piece = with_id(result.pieces, id); piece.courses) piece.courses->from += dy;
    return result;
}

Section rotate_taken(const Section& section, const Taken& taken, Point about, double degrees) {
    const double turned = std::fmod(std::fmod(degrees, 360) + 360, 360);
    const double radians = turned * std::numbers::pi / 180, c = std::cos(radians), s = std::sin(radians);
    Section result = send(section, taken, [&](Point p) -> Point {
        const Micrometres x = p.x - about.x, y = p.y - about.y;
        if (turned == 0) return p;
        if (turned == 90) return {about.x - y, about.y + x};
        if (turned == 180) return {about.x - x, about.y - y};
        if (turned == 270) return {about.x + y, about.y - x};
        return {about.x + std::llround(c * static_cast<double>(x) - s * static_cast<double>(y)), about.y + std::llround(s * static_cast<double>(x) + c * static_cast<double>(y))};
    });
    for (const std::string& id : taken.dimensions) {
        Dimension& dimension = with_id(result.dimensions, id);
        if (dimension.along.empty()) continue;
        const bool was_x = dimension.along == "x";
        if (turned == 180 || turned == (was_x ? 90 : 270)) dimension.offset = -dimension.offset;
        if (turned == 90 || turned == 270) dimension.along = was_x ? "y" : "x";
    }
    return result;
}

Section mirror_taken(const Section& section, const Taken& taken, bool upright, Micrometres at) {
    Section result = send(section, taken, [&](Point p) { return upright ? Point{2 * at - p.x, p.y} : Point{p.x, 2 * at - p.y}; }, true);
    for (const std::string& id : taken.dimensions) {
        Dimension& dimension = with_id(result.dimensions, id);
        if (dimension.along != (upright ? "x" : "y")) dimension.offset = -dimension.offset;
    }
    return result;
}

Section delete_taken(const Section& section, const Taken& taken) {
    Section result = section;
    for (const auto& id : taken.pieces) result = delete_piece(result, id);
    for (const auto& id : taken.membranes) result = delete_membrane(result, id);
    for (const auto& id : taken.dimensions) result = delete_dimension(result, id);
    for (const auto& id : taken.texts) result = delete_note(result, id);
    return result;
}

Section paste_taken(const Section& section, const Section& from, const Taken& taken, Micrometres dx, Micrometres dy, Taken* added) {
    Section result = section;
    Taken became;
    std::map<std::string, std::string> new_ids;
    const auto put = [&](std::vector<Point>& line) {
        for (Point& p : line) p = shifted(p, dx, dy);
    };
    for (const Piece& original : from.pieces) {  // in their order, so that they cover each other as they did
        if (std::find(taken.pieces.begin(), taken.pieces.end(), original.id) == taken.pieces.end()) continue;
        Piece piece = original;
        if (piece.fill == Fill::space && !find_space(section, piece.filled_with)) refuse("edit-unknown-id", {{"id", piece.filled_with}});
        piece.id.clear();
        put(piece.outline);
        for (Outline& hole : piece.holes) put(hole);
        if (piece.courses) piece.courses->from += dy;
        result = add_piece(result, std::move(piece));
        became.pieces.push_back(new_ids[original.id] = result.pieces.back().id);
    }
    if (became.pieces.size() != taken.pieces.size())
        for (const auto& id : taken.pieces) need(from.pieces, id);
    for (const auto& id : taken.membranes) {
        Membrane membrane = need(from.membranes, id);
        membrane.id.clear();
        put(membrane.path);
        result = add_membrane(result, std::move(membrane));
        became.membranes.push_back(new_ids[id] = result.membranes.back().id);
    }
    for (const auto& id : taken.dimensions) {
        Dimension dimension = need(from.dimensions, id);
        dimension.id.clear();
        dimension.from = shifted(dimension.from, dx, dy), dimension.to = shifted(dimension.to, dx, dy);
        result = add_dimension(result, std::move(dimension));
        became.dimensions.push_back(result.dimensions.back().id);
    }
    for (const auto& id : taken.texts) {
        Note note = need(from.texts, id);
        note.id.clear();
        note.at = shifted(note.at, dx, dy);
        result = add_note(result, std::move(note));
        became.texts.push_back(result.texts.back().id);
    }
    for (const Group& group : from.groups) {
        std::vector<std::string> members;
        for (const auto& id : group.members)
            if (const auto copy = new_ids.find(id); copy != new_ids.end()) members.push_back(copy->second);
        if (members.size() > 1 && members.size() == group.members.size()) result = add_group(result, members, group.name);
    }
    if (corners_of(result) > most_corners) refuse("too-many-vertices");
    if (added) *added = std::move(became);
    return result;
}

Section copy_taken(const Section& section, const Taken& taken, int number, Micrometres dx, Micrometres dy) {
    if (number < 1 || number > most_copies) refuse("copies-number", {{"most", std::to_string(most_copies)}});
    Section result = section;
    for (int i = 1; i <= number; ++i) result = paste_taken(result, section, taken, i * dx, i * dy);
    return result;
}

Section set_material_of(const Section& section, const std::vector<std::string>& pieces, const std::string& material) {
    Section result = section;
    for (const auto& id : pieces) result = set_material(result, id, material);
    return result;
}

// ---- one piece ---------------------------------------------------------------------------------------------------------

Section add_hole(const Section& section, const std::string& id, Outline hole) {
    Section result = section;
    Piece& piece = with_id(result.pieces, id);
    const std::map<std::string, std::string> name{{"piece", piece.name.empty() ? id : piece.name}};
    if (const auto fault = check_outline(hole)) refuse(fault->kind, name, fault->at);
    piece.holes.push_back(hole);
    edit::check_piece(piece);
    edit::insert_corners(result, hole);
    return result;
}

Section delete_hole(const Section& section, const std::string& id, std::size_t hole) {
    Section result = section;
    Piece& piece = with_id(result.pieces, id);
    check_has_hole(piece, hole);
    piece.holes.erase(piece.holes.begin() + static_cast<std::ptrdiff_t>(hole));
    return result;
}

Section move_hole(const Section& section, const std::string& id, std::size_t hole, Micrometres dx, Micrometres dy) {
    Section result = section;
    Piece& piece = with_id(result.pieces, id);
    check_has_hole(piece, hole);
    std::map<Point, Point> moved;
    for (Point& p : piece.holes[hole]) {
        const Point from = std::exchange(p, {p.x + dx, p.y + dy});
        edit::check_limit(p);
        moved[from] = p;
    }
    edit::check_piece(piece);
    const Outline there = piece.holes[hole];
    edit::insert_corners(result, there);
    edit::carry_ends(result, moved);
    return result;
}

Section offset_edge(const Section& section, const std::string& id, Point a, Point b, Micrometres distance) {
    const Piece& piece = need(section.pieces, id);
    // Along a ring with the material on its left, outwards is to the right.
    const auto outwards = [&](const Outline& ring, bool hole) -> std::optional<Point> {
        for (std::size_t i = 0; i < ring.size(); ++i) {
            Point p = ring[i], q = ring[(i + 1) % ring.size()];
            if (!((p == a && q == b) || (p == b && q == a))) continue;
            if ((area2(ring) > 0) == hole) std::swap(p, q);
            return Point{q.y - p.y, p.x - q.x};
        }
        return {};
    };
    auto normal = outwards(piece.outline, false);
    for (const Outline& hole : piece.holes)
        if (!normal) normal = outwards(hole, true);
    if (!normal) refuse("edit-no-edge", {}, a);
    const double share = static_cast<double>(distance) / std::hypot(static_cast<double>(normal->x), static_cast<double>(normal->y));
    Section result = move_edge(section, a, b, std::llround(static_cast<double>(normal->x) * share), std::llround(static_cast<double>(normal->y) * share));
    for (std::size_t i = 0; i < result.pieces.size(); ++i) {  // one that turned over has passed itself
        const Piece &before = section.pieces[i], &after = result.pieces[i];
        bool turned = (area2(after.outline) > 0) != (area2(before.outline) > 0);
        for (std::size_t h = 0; h < after.holes.size(); ++h) turned = turned || (area2(after.holes[h]) > 0) != (area2(before.holes[h]) > 0);
        if (turned) refuse("stretch-too-far", {}, a);
    }
    return result;
}

Section set_courses(const Section& section, const std::string& id, std::optional<Courses> courses) {
    if (courses && courses->height <= 0) refuse("courses-without-height");
    Section result = section;
    Piece& piece = with_id(result.pieces, id);
    if (courses && piece.courses) courses->extra = piece.courses->extra;
    piece.courses = std::move(courses);
    return result;
}

// ---- texts and groups --------------------------------------------------------------------------------------------------

Section add_note(const Section& section, Note note) {
    Section result = section;
    if (note.text.empty()) refuse("note-empty", {}, note.at);
    if (note.id.empty()) note.id = edit::free_id(section, "t");
    else if (find_note(section, note.id)) refuse("duplicate-id", {{"id", note.id}});
    result.texts.push_back(std::move(note));
    return result;
}

Section change_note(const Section& section, const Note& note) {
    if (note.text.empty()) refuse("note-empty", {}, note.at);
    Section result = section;
    edit::check_limit(note.at);
    with_id(result.texts, note.id) = note;
    return result;
}

Section delete_note(const Section& section, const std::string& id) {
    Section result = section;
    with_id(result.texts, id);
    std::erase_if(result.texts, [&](const Note& note) { return note.id == id; });
    return result;
}

const Note* find_note(const Section& section, const std::string& id) { return edit::found_in(section.texts, id); }

Section add_group(const Section& section, const std::vector<std::string>& members, const std::string& name) {
    if (members.size() < 2) refuse("group-too-small");
    Section result = section;
    for (const auto& id : members) {
        if (!find_piece(section, id) && !find_membrane(section, id)) refuse("edit-unknown-id", {{"id", id}});
        edit::leave_groups(result, id);
    }
    result.groups.push_back({edit::free_id(section, "g"), name, members, {}});
    return result;
}

Section delete_group(const Section& section, const std::string& id) {
    Section result = section;
    with_id(result.groups, id);
    std::erase_if(result.groups, [&](const Group& group) { return group.id == id; });
    return result;
}

const Group* group_of(const Section& section, const std::string& member) {
    for (const Group& group : section.groups)
        if (std::find(group.members.begin(), group.members.end(), member) != group.members.end()) return &group;
    return nullptr;
}

}  // namespace wallfoot
