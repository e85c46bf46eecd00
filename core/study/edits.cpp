// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/study/underlays.hpp"

#include <algorithm>
#include <functional>
#include <set>

#include "core/geometry/outline_check.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

namespace edit {

void check_piece(const Piece& piece) {
    const std::map<std::string, std::string> args{{"piece", piece.name.empty() ? piece.id : piece.name}};
    if (const auto fault = check_outline(piece.outline)) refuse(fault->kind, args, fault->at);
    for (const auto& hole : piece.holes) {
        if (const auto fault = check_outline(hole)) refuse(fault->kind, args, fault->at);
        if (const auto fault = check_hole(piece.outline, hole)) refuse(fault->kind, args, fault->at);
    }
    if (const auto fault = check_holes_apart(piece.holes)) refuse(fault->second.kind, args, fault->second.at);
}

}  // namespace edit

namespace {

using edit::check_piece;
using edit::refuse;

/// Applies a change to every line of the drawing; `closed` says whether the last corner joins the first.
/// Returns true when anything changed; what changed is checked.
bool change_lines(Section& section, const std::function<bool(std::vector<Point>&, bool closed)>& change) {
    bool any = false;
    for (auto& piece : section.pieces) {
        bool changed = change(piece.outline, true);
        for (auto& hole : piece.holes) changed = change(hole, true) || changed;
        if (changed) check_piece(piece);
        any = any || changed;
    }
    for (auto& membrane : section.membranes)
        if (change(membrane.path, false)) {
            edit::check_path(membrane);
            any = true;
        }
    return any;
}

template <class Visit>
void each_edge(const Section& section, Visit visit) {
    const auto closed = [&](const Outline& line) {
        for (std::size_t i = 0; i < line.size(); ++i) visit(line[i], line[(i + 1) % line.size()]);
    };
    for (const auto& piece : section.pieces) {
        closed(piece.outline);
        for (const auto& hole : piece.holes) closed(hole);
    }
    for (const auto& membrane : section.membranes)
        for (std::size_t i = 1; i < membrane.path.size(); ++i) visit(membrane.path[i - 1], membrane.path[i]);
}

/// Within 1 µm of the line and strictly between its ends.
bool lies_on_edge(Point p, Point a, Point b) {
    if (p == a || p == b) return false;
    const __int128 length2 = __int128(b.x - a.x) * (b.x - a.x) + __int128(b.y - a.y) * (b.y - a.y);
    const __int128 along = __int128(p.x - a.x) * (b.x - a.x) + __int128(p.y - a.y) * (b.y - a.y);
    const __int128 off = cross(a, b, p);
    return along > 0 && along < length2 && off * off <= length2;
}

bool insert_into(std::vector<Point>& line, bool closed, Point at) {
    if (std::find(line.begin(), line.end(), at) != line.end()) return false;
    const std::size_t edges = closed ? line.size() : line.size() - 1;
    for (std::size_t i = 0; i < edges; ++i)
        if (lies_on_edge(at, line[i], line[(i + 1) % line.size()])) {
            line.insert(line.begin() + static_cast<std::ptrdiff_t>(i) + 1, at);
            return true;
        }
    return false;
}

std::size_t piece_index(const Section& section, const std::string& id) {
    for (std::size_t i = 0; i < section.pieces.size(); ++i)
        if (section.pieces[i].id == id) return i;
    refuse("edit-unknown-id", {{"id", id}});
}

Section change_piece(const Section& section, const std::string& id, const std::function<void(Piece&)>& change) {
    Section result = section;
    change(result.pieces[piece_index(section, id)]);
    return result;
}

bool move_points(std::vector<Point>& line, const std::vector<Point>& moved, Micrometres dx, Micrometres dy) {
    bool any = false;
    for (auto& p : line)
        if (std::binary_search(moved.begin(), moved.end(), p)) {
            p = {p.x + dx, p.y + dy};
            any = true;
        }
    return any;
}

}  // namespace

Section move_corner(const Section& section, Point from, Point to) {
    Section result = section;
    const std::vector<Point> moved{from};
    const bool any = change_lines(result, [&](std::vector<Point>& line, bool) {
        return move_points(line, moved, to.x - from.x, to.y - from.y);
    });
    if (!any) refuse("edit-no-corner", {}, from);
    edit::carry_ends(result, {{from, to}});
    return result;
}

std::vector<Point> points_moved_with_edge(const Section& section, Point a, Point b) {
    if (b < a) std::swap(a, b);
    // Points of one line keep their order in (x, y), so the covered stretch is an interval in that order.
    std::vector<std::pair<Point, Point>> on_line;
    std::set<Point> corners{a, b};
    const Point line_a = a, line_b = b;
    each_edge(section, [&](Point p, Point q) {
        const bool p_on = cross(line_a, line_b, p) == 0, q_on = cross(line_a, line_b, q) == 0;
        if (p_on) corners.insert(p);
        if (q_on) corners.insert(q);
        if (p_on && q_on) on_line.push_back(std::minmax(p, q));
    });
    for (bool grown = true; grown;) {
        grown = false;
        for (const auto& [p, q] : on_line)
            if (p < b && a < q && (p < a || b < q)) {
                a = std::min(a, p);
                b = std::max(b, q);
                grown = true;
            }
    }
    std::vector<Point> moved;
    for (const Point p : corners)
        if (a <= p && p <= b) moved.push_back(p);
    return moved;
}

Section move_edge(const Section& section, Point a, Point b, Micrometres dx, Micrometres dy) {
    const auto moved = points_moved_with_edge(section, a, b);
    Section result = section;
    if (!change_lines(result, [&](std::vector<Point>& line, bool) { return move_points(line, moved, dx, dy); }))
        refuse("edit-no-edge", {}, a);
    std::map<Point, Point> went;
    for (const Point p : moved) went[p] = {p.x + dx, p.y + dy};
    edit::carry_ends(result, went);
    return result;
}

Section insert_corner(const Section& section, Point at) {
    Section result = section;
    if (!change_lines(result, [&](std::vector<Point>& line, bool closed) { return insert_into(line, closed, at); }))
        refuse("edit-no-edge", {}, at);
    return result;
}

Section remove_corner(const Section& section, Point at) {
    Section result = section;
    const bool any = change_lines(result, [&](std::vector<Point>& line, bool) { return std::erase(line, at) > 0; });
    if (!any) refuse("edit-no-corner", {}, at);
    return result;
}

Section add_piece(const Section& section, Piece piece) {
    Section result = section;
    if (piece.id.empty()) {
        piece.id = edit::free_id(section, "p");
    } else if (find_piece(section, piece.id)) {
        refuse("duplicate-id", {{"id", piece.id}});
    }
    check_piece(piece);
    edit::insert_corners(result, piece.outline);
    for (const auto& hole : piece.holes) edit::insert_corners(result, hole);
    result.pieces.push_back(std::move(piece));
    return result;
}

Section delete_piece(const Section& section, const std::string& id) {
    Section result = section;
    result.pieces.erase(result.pieces.begin() + static_cast<std::ptrdiff_t>(piece_index(section, id)));
    edit::leave_groups(result, id);
    return result;
}

Section move_piece(const Section& section, const std::string& id, Micrometres dx, Micrometres dy) {
    return move_taken(section, {.pieces = {id}}, dx, dy);
}

Section set_material(const Section& section, const std::string& id, const std::string& material) {
    return change_piece(section, id, [&](Piece& piece) {
        piece.fill = Fill::material;
        piece.filled_with = material;
    });
}

Section set_moisture(const Section& section, const std::string& id, std::optional<Condition> moisture) {
    return change_piece(section, id, [&](Piece& piece) { piece.moisture = moisture; });
}

Section rename_piece(const Section& section, const std::string& id, const std::string& name) {
    return change_piece(section, id, [&](Piece& piece) { piece.name = name; });
}

Section reorder_piece(const Section& section, const std::string& id, std::size_t index) {
    Section result = section;
    const auto from = static_cast<std::ptrdiff_t>(piece_index(section, id));
    const auto to = static_cast<std::ptrdiff_t>(std::min(index, section.pieces.size() - 1));
    auto& pieces = result.pieces;
    if (from < to) std::rotate(pieces.begin() + from, pieces.begin() + from + 1, pieces.begin() + to + 1);
    else std::rotate(pieces.begin() + to, pieces.begin() + from, pieces.begin() + from + 1);
    return result;
}

Section set_fill(const Section& section, const std::string& id, Fill fill, const std::string& filled_with) {
    if (fill == Fill::space && !find_space(section, filled_with)) refuse("edit-unknown-id", {{"id", filled_with}});
    return change_piece(section, id, [&](Piece& piece) {
        piece.fill = fill;
        piece.filled_with = fill == Fill::cutout ? std::string() : filled_with;
        if (fill != Fill::material) piece.moisture.reset();  // a condition belongs to a material
    });
}

const Piece* find_piece(const Section& section, const std::string& id) {
    for (const auto& piece : section.pieces)
        if (piece.id == id) return &piece;
    return nullptr;
}

Outline rectangle_outline(Point a, Point b) {
    const auto [left, right] = std::minmax(a.x, b.x);
    const auto [bottom, top] = std::minmax(a.y, b.y);
    return {{left, bottom}, {right, bottom}, {right, top}, {left, top}};
}

Study with_section(const Study& study, std::size_t variant, Section section) {
    Study result = study;
    result.variants.at(variant).section = std::make_shared<const Section>(std::move(section));
    return result;
}

Study duplicate_variant(const Study& study, std::size_t variant, const std::string& name) {
    Study result = study;
    Variant copy = study.variants.at(variant);
    std::set<std::string> ids, names;
    for (const auto& other : study.variants) {
        ids.insert(other.id);
        names.insert(other.name);
    }
    for (int n = 1; ids.contains(copy.id); ++n) copy.id = "v" + std::to_string(n);
    const std::string base = copy.name;
    if (!name.empty()) copy.name = name;
    else
        for (int n = 2; names.contains(copy.name); ++n) copy.name = base + " " + std::to_string(n);
    result.variants.insert(result.variants.begin() + static_cast<std::ptrdiff_t>(variant) + 1, std::move(copy));
    return result;
}

Study rename_variant(const Study& study, std::size_t variant, const std::string& name) {
    Study result = study;
    result.variants.at(variant).name = name;
    return result;
}

Study remove_variant(const Study& study, std::size_t variant) {
    if (study.variants.size() < 2) refuse("edit-last-variant");
    Study result = study;
    result.variants.erase(result.variants.begin() + static_cast<std::ptrdiff_t>(variant));
    drop_unused_attachments(study, result);
    return result;
}

}  // namespace wallfoot
