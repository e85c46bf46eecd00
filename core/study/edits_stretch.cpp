// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <functional>

#include "core/geometry/outline_check.hpp"
#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "core/text/number_entry.hpp"

// Edits by a measure: all beyond a line moves.
namespace wallfoot {

namespace {

using edit::refuse;

/// A point seen so that `moves` leads to greater u.
struct Seen {
    Micrometres u, v;
};

Seen seen(const std::string& moves, Point p) {
    if (moves == "left") return {-p.x, p.y};
    if (moves == "up") return {p.y, p.x};
    if (moves == "down") return {-p.y, p.x};
    return {p.x, p.y};
}

Point step(const std::string& moves, Micrometres by) {
    if (moves == "left") return {-by, 0};
    if (moves == "up") return {0, by};
    if (moves == "down") return {0, -by};
    return {by, 0};
}

/// What moving has left of a section: nothing may have passed itself.
void check_moved(const Section& before, const Section& after) {
    if (after.cut.width() <= 0 || after.cut.height() <= 0) refuse("stretch-too-far");
    for (std::size_t i = 0; i < after.pieces.size(); ++i) {
        const Piece& piece = after.pieces[i];
        if (piece == before.pieces[i]) continue;
        if (const auto fault = check_outline(piece.outline)) refuse("stretch-too-far", {}, fault->at);
        for (const Outline& hole : piece.holes)
            if (check_outline(hole) || check_hole(piece.outline, hole)) refuse("stretch-too-far", {}, hole.front());
        if (const auto fault = check_holes_apart(piece.holes)) refuse("stretch-too-far", {}, fault->second.at);
        // What only shrinks keeps its way round; turned over, it has passed itself.
        if ((area2(piece.outline) > 0) != (area2(before.pieces[i].outline) > 0)) refuse("stretch-too-far", {}, piece.outline.front());
        for (std::size_t h = 0; h < piece.holes.size(); ++h)
            if ((area2(piece.holes[h]) > 0) != (area2(before.pieces[i].holes[h]) > 0)) refuse("stretch-too-far", {}, piece.holes[h].front());
    }
    const auto check_path = [](const Path& path) {
        if (const auto same = std::adjacent_find(path.begin(), path.end()); same != path.end()) refuse("stretch-too-far", {}, *same);
    };
    for (const Membrane& membrane : after.membranes) check_path(membrane.path);
    for (const HiddenSurface& hidden : after.hidden) check_path(hidden.path);
}

Section move_where(const Section& section, const std::function<bool(Point)>& beyond, Point by) {
    Section result = section;
    edit::each_point(result, [&](Point& p) {
        if (!beyond(p)) return;
        p = {p.x + by.x, p.y + by.y};
        edit::check_limit(p);
    });
    return result;
}

void check_stretch(const Stretch& stretch) {
    const std::map<std::string, std::string> name{{"stretch", stretch.name.empty() ? stretch.id : stretch.name}};
    if (stretch.line.size() < 2) refuse("path-too-short", {{"piece", name.at("stretch")}}, stretch.line.empty() ? Point{} : stretch.line.front());
    if (stretch.min && stretch.max && *stretch.min > *stretch.max) refuse("stretch-range", name);
    const bool measures = stretch.measure.size() > 1 && lies_beyond(stretch.line, stretch.moves, stretch.measure.front()) != lies_beyond(stretch.line, stretch.moves, stretch.measure.back());
    if (!measures || stretch_length(stretch) <= 0) refuse("stretch-measures-nothing", name, stretch.line.front());
}

void check_dimension(const Dimension& dimension) {
    edit::check_limit(dimension.from);
    edit::check_limit(dimension.to);
    if (std::abs(dimension.offset) > coordinate_limit) {
        const Place line = dimension_line(dimension).front();
        refuse("coordinate-too-large", {}, Point{from_mm(line.x), from_mm(line.y)});
    }
    if (dimension_length(dimension) == 0) refuse("dimension-empty", {}, dimension.from);
}

}  // namespace

bool lies_beyond(const Path& line, const std::string& moves, Point p) {
    if (line.empty()) return false;
    const Seen at = seen(moves, p);
    Micrometres low = seen(moves, line.front()).v, high = low;
    for (const Point q : line) low = std::min(low, seen(moves, q).v), high = std::max(high, seen(moves, q).v);
    const Micrometres v = std::clamp(at.v, low, high);  // the line runs on from its ends
    for (std::size_t i = 0; i < line.size(); ++i) {
        Seen a = seen(moves, line[i]);
        if (a.v == v && at.u <= a.u) return false;
        if (i + 1 == line.size()) break;
        Seen b = seen(moves, line[i + 1]);
        if (a.v > b.v) std::swap(a, b);
        if (a.v < v && v < b.v && (at.u - a.u) * (b.v - a.v) <= (b.u - a.u) * (v - a.v)) return false;
    }
    return true;
}

Section move_beyond(const Section& section, const Path& line, const std::string& moves, Micrometres by) {
    const Point way = step(moves, by);
    Section result = move_where(section, [&](Point p) { return lies_beyond(line, moves, p); }, way);
    Micrometres farthest = seen(moves, line.at(0)).u;
    for (const Point p : line) farthest = std::max(farthest, seen(moves, p).u);
    const auto carry = [&](Micrometres& place, bool upright) {
        const Point p = upright ? Point{place, 0} : Point{0, place};
        if (seen(moves, p).u > farthest) place += upright ? way.x : way.y;
    };
    if (moves == "left" || moves == "right") {
        carry(result.cut.left, true), carry(result.cut.right, true);
    } else {
        carry(result.cut.bottom, false), carry(result.cut.top, false);
        for (Level* level : {&result.floor, &result.ground, &result.dpc})
            for (auto* height : {&level->both, &level->left, &level->right})
                if (*height) carry(**height, false);
    }
    check_moved(section, result);
    return result;
}

Section stretch_section(const Section& section, bool upright, Micrometres at, bool beyond, Micrometres by) {
    const Path line = upright ? Path{{at, 0}, {at, um_per_mm}} : Path{{0, at}, {um_per_mm, at}};
    return move_beyond(section, line, upright ? beyond ? "right" : "left" : beyond ? "up" : "down", by);
}

// ---- named measures ----------------------------------------------------------------------------------------------------

Stretch stretch_through(const Section& section, Path line, const std::string& moves, const Piece* piece) {
    Stretch stretch;
    stretch.moves = moves;
    const Rect& cut = section.cut;
    const Point middle = line.empty() ? Point{} : Point{(line.front().x + line.back().x) / 2, (line.front().y + line.back().y) / 2};
    const bool across = moves == "left" || moves == "right";
    Path ends = across ? Path{{cut.left, middle.y}, {cut.right, middle.y}} : Path{{middle.x, cut.bottom}, {middle.x, cut.top}};
    if (piece) {
        // Corners, so that they follow; of several equally far those nearest to the line's middle.
        const auto before = [&](Point a, Point b) {
            const Seen s = seen(moves, a), t = seen(moves, b);
            if (s.u != t.u) return s.u < t.u;
            return std::abs(s.v - seen(moves, middle).v) > std::abs(t.v - seen(moves, middle).v);
        };
        const auto far = *std::max_element(piece->outline.begin(), piece->outline.end(), before);
        const auto near = *std::min_element(piece->outline.begin(), piece->outline.end(), [&](Point a, Point b) {
            const Seen s = seen(moves, a), t = seen(moves, b);
            return s.u != t.u ? s.u < t.u : std::abs(s.v - seen(moves, far).v) < std::abs(t.v - seen(moves, far).v);
        });
        ends = {near, far};
        stretch.name = piece->name;
    }
    stretch.line = std::move(line);
    stretch.measure = std::move(ends);
    return stretch;
}

Micrometres stretch_length(const Stretch& stretch) {
    if (stretch.measure.size() < 2) return 0;
    const Micrometres a = seen(stretch.moves, stretch.measure.front()).u, b = seen(stretch.moves, stretch.measure.back()).u;
    return lies_beyond(stretch.line, stretch.moves, stretch.measure.front()) ? a - b : b - a;
}

Section add_stretch(const Section& section, Stretch stretch) {
    Section result = section;
    if (stretch.id.empty()) stretch.id = edit::free_id(section, "s");
    else if (find_stretch(section, stretch.id)) refuse("duplicate-id", {{"id", stretch.id}});
    check_stretch(stretch);
    result.stretch.push_back(std::move(stretch));
    return result;
}

Section change_stretch(const Section& section, const Stretch& stretch) {
    Section result = section;
    check_stretch(stretch);
    edit::with_id(result.stretch, stretch.id) = stretch;
    return result;
}

Section delete_stretch(const Section& section, const std::string& id) {
    Section result = section;
    edit::with_id(result.stretch, id);
    std::erase_if(result.stretch, [&](const Stretch& stretch) { return stretch.id == id; });
    return result;
}

Section set_stretch(const Section& section, const std::string& id, Micrometres length) {
    const Stretch* stretch = find_stretch(section, id);
    if (!stretch) refuse("edit-unknown-id", {{"id", id}});
    const std::string name = stretch->name.empty() ? id : stretch->name;
    check_stretch(*stretch);
    if (stretch->min && length < *stretch->min) refuse("stretch-below-least", {{"stretch", name}, {"least", length_text(to_mm(*stretch->min))}});
    if (stretch->max && length > *stretch->max) refuse("stretch-above-most", {{"stretch", name}, {"most", length_text(to_mm(*stretch->max))}});
    return move_beyond(section, stretch->line, stretch->moves, length - stretch_length(*stretch));
}

const Stretch* find_stretch(const Section& section, const std::string& id) { return edit::found_in(section.stretch, id); }

// ---- dimensions --------------------------------------------------------------------------------------------------------

double dimension_length(const Dimension& dimension) {
    const double dx = to_mm(std::abs(dimension.to.x - dimension.from.x)), dy = to_mm(std::abs(dimension.to.y - dimension.from.y));
    return dimension.along == "x" ? dx : dimension.along == "y" ? dy : std::hypot(dx, dy);
}

std::array<Place, 2> dimension_line(const Dimension& dimension) {
    const Place a{to_mm(dimension.from.x), to_mm(dimension.from.y)}, b{to_mm(dimension.to.x), to_mm(dimension.to.y)};
    const double offset = to_mm(dimension.offset);
    if (dimension.along == "x") return {{{a.x, a.y + offset}, {b.x, a.y + offset}}};
    if (dimension.along == "y") return {{{a.x + offset, a.y}, {a.x + offset, b.y}}};
    const double dx = b.x - a.x, dy = b.y - a.y, length = std::max(std::hypot(dx, dy), 1e-9);
    const double sx = -dy / length * offset, sy = dx / length * offset;
    return {{{a.x + sx, a.y + sy}, {b.x + sx, b.y + sy}}};
}

std::string dimension_words(const Dimension& dimension) {
    const std::string length = number_text(dimension_length(dimension), 1);
    return dimension.text.empty() ? length : length + " " + dimension.text;
}

Section add_dimension(const Section& section, Dimension dimension) {
    Section result = section;
    if (dimension.id.empty()) dimension.id = edit::free_id(section, "d");
    else if (find_dimension(section, dimension.id)) refuse("duplicate-id", {{"id", dimension.id}});
    check_dimension(dimension);
    result.dimensions.push_back(std::move(dimension));
    return result;
}

Section change_dimension(const Section& section, const Dimension& dimension) {
    Section result = section;
    check_dimension(dimension);
    edit::with_id(result.dimensions, dimension.id) = dimension;
    return result;
}

Section move_dimension_end(const Section& section, const std::string& id, bool to, Point at) {
    const Dimension* present = find_dimension(section, id);
    if (!present) refuse("edit-unknown-id", {{"id", id}});
    edit::check_limit(at);
    Dimension dimension = *present;
    // Its line is told from the first point.
    if (!to) dimension.offset += dimension.along == "x" ? dimension.from.y - at.y : dimension.along == "y" ? dimension.from.x - at.x : 0;
    (to ? dimension.to : dimension.from) = at;
    return change_dimension(section, dimension);
}

Section delete_dimension(const Section& section, const std::string& id) {
    Section result = section;
    edit::with_id(result.dimensions, id);
    std::erase_if(result.dimensions, [&](const Dimension& dimension) { return dimension.id == id; });
    return result;
}

Section set_dimension(const Section& section, const std::string& id, Micrometres length, bool to_moves) {
    const Dimension* dimension = find_dimension(section, id);
    if (!dimension) refuse("edit-unknown-id", {{"id", id}});
    check_dimension(*dimension);
    if (length <= 0) refuse("dimension-empty", {}, dimension->from);
    const Point end = to_moves ? dimension->to : dimension->from, other = to_moves ? dimension->from : dimension->to;
    const bool along_x = dimension->along == "x" || (dimension->along.empty() && end.y == other.y);
    const bool along_y = dimension->along == "y" || (dimension->along.empty() && end.x == other.x);
    if (along_x || along_y) {
        // The end itself goes along: the line lies one step of the grid before it.
        const bool onward = along_x ? end.x > other.x : end.y > other.y;
        const Micrometres at = (along_x ? end.x : end.y) + (onward ? -1 : 1);
        return stretch_section(section, along_x, at, onward, length - std::abs(along_x ? end.x - other.x : end.y - other.y));
    }
    const Micrometres dx = end.x - other.x, dy = end.y - other.y;
    const double more = to_mm(length) / dimension_length(*dimension) - 1;
    const Point by{std::llround(static_cast<double>(dx) * more), std::llround(static_cast<double>(dy) * more)};
    Section result = move_where(section, [&](Point p) { return __int128(p.x - end.x) * dx + __int128(p.y - end.y) * dy >= 0; }, by);
    check_moved(section, result);
    return result;
}

const Dimension* find_dimension(const Section& section, const std::string& id) { return edit::found_in(section.dimensions, id); }

}  // namespace wallfoot
