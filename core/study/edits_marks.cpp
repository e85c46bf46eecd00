// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>
#include <utility>

#include "core/study/edit_help.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "core/text/number_entry.hpp"

// Edits of what is no piece: membranes, spaces with their marks, water, levels, the cut.
namespace wallfoot {

namespace edit {

void refuse(const std::string& code, std::map<std::string, std::string> args, std::optional<Point> at) {
    throw InputFault(Message{Severity::fault, code, std::move(args), at, {}});
}

std::string free_id(const Section& section, const std::string& stem, int n) {
    std::set<std::string> taken;
    for (const auto& piece : section.pieces) taken.insert(piece.id);
    for (const auto& space : section.spaces) taken.insert(space.id);
    for (const auto& membrane : section.membranes) taken.insert(membrane.id);
    for (const auto& stretch : section.stretch) taken.insert(stretch.id);
    for (const auto& dimension : section.dimensions) taken.insert(dimension.id);
    for (const auto& note : section.texts) taken.insert(note.id);
    for (const auto& hidden : section.hidden) taken.insert(hidden.id);
    for (const auto& group : section.groups) taken.insert(group.id);
    while (taken.contains(stem + std::to_string(n))) ++n;
    return stem + std::to_string(n);
}

void check_path(const Membrane& membrane) {
    const std::map<std::string, std::string> args{{"piece", membrane.id}};
    if (membrane.path.size() < 2) refuse("path-too-short", args, membrane.path.empty() ? Point{} : membrane.path.front());
    for (std::size_t i = 1; i < membrane.path.size(); ++i)
        if (membrane.path[i] == membrane.path[i - 1]) refuse("path-repeated-point", args, membrane.path[i]);
}

void check_limit(Point p) {
    if (std::abs(p.x) > coordinate_limit || std::abs(p.y) > coordinate_limit) refuse("coordinate-too-large", {}, p);
}

void carry_ends(Section& section, const std::map<Point, Point>& moved) {
    if (section.dimensions.empty() && section.stretch.empty()) return;
    std::set<Point> held;
    for (const Piece& piece : section.pieces) {
        held.insert(piece.outline.begin(), piece.outline.end());
        for (const Outline& hole : piece.holes) held.insert(hole.begin(), hole.end());
    }
    for (const Membrane& membrane : section.membranes) held.insert(membrane.path.begin(), membrane.path.end());
    const auto carry = [&](Point& end) {
        if (const auto to = moved.find(end); to != moved.end() && !held.contains(end)) end = to->second;
    };
    for (Dimension& dimension : section.dimensions) carry(dimension.from), carry(dimension.to);
    for (Stretch& stretch : section.stretch)
        for (Point& end : stretch.measure) carry(end);
}

void leave_groups(Section& section, const std::string& id) {
    for (Group& group : section.groups) std::erase(group.members, id);
    std::erase_if(section.groups, [](const Group& group) { return group.members.size() < 2; });
}

void insert_corners(Section& section, const std::vector<Point>& points) {
    for (const Point point : points) {
        try {
            section = insert_corner(section, point);
        } catch (const InputFault&) {
        }
    }
}

}  // namespace edit

namespace {

using edit::found_in;
using edit::refuse;
using edit::with_id;

void need_temperature(const Space& space) {
    if (space.temperature && !(*space.temperature >= least_celsius && *space.temperature <= most_celsius))
        refuse("temperature-absurd", {{"value", number_text(*space.temperature)}, {"least", number_text(least_celsius)}, {"most", number_text(most_celsius)}});
    const bool by_convention = space.kind == SpaceKind::inside || space.kind == SpaceKind::outside;
    if (by_convention || space.temperature || space.balance) return;
    refuse("space-without-temperature", {{"space", space.id}}, space.at.empty() ? std::optional<Point>{} : space.at.front());
}

/// Writes the marks of a space; one alone stays written as one.
void set_marks(Space& space, std::vector<Point> marks) {
    space.at = std::move(marks);
    space.single_mark = space.at.size() <= 1;
}

std::vector<Point>::iterator mark_at(Space& space, Point at) {
    const auto mark = std::find(space.at.begin(), space.at.end(), at);
    if (mark == space.at.end()) refuse("edit-no-mark", {{"space", space.id}}, at);
    return mark;
}

}  // namespace

const Membrane* find_membrane(const Section& section, const std::string& id) { return found_in(section.membranes, id); }
const Space* find_space(const Section& section, const std::string& id) { return found_in(section.spaces, id); }

Section add_membrane(const Section& section, Membrane membrane) {
    Section result = section;
    if (membrane.id.empty()) membrane.id = edit::free_id(section, "m");
    else if (find_membrane(section, membrane.id)) refuse("duplicate-id", {{"id", membrane.id}});
    edit::check_path(membrane);
    edit::insert_corners(result, membrane.path);
    result.membranes.push_back(std::move(membrane));
    return result;
}

Section set_membrane_path(const Section& section, const std::string& id, const Path& path) {
    Section result = section;
    Membrane& membrane = with_id(result.membranes, id);
    membrane.path = path;
    edit::check_path(membrane);
    edit::insert_corners(result, path);
    return result;
}

Section move_membrane(const Section& section, const std::string& id, Micrometres dx, Micrometres dy) {
    Section result = section;
    std::map<Point, Point> moved;
    for (Point& p : with_id(result.membranes, id).path) {
        const Point from = std::exchange(p, {p.x + dx, p.y + dy});
        edit::check_limit(p);
        moved[from] = p;
    }
    edit::carry_ends(result, moved);
    return result;
}

Section set_membrane_kind(const Section& section, const std::string& id, MembraneKind kind) {
    Section result = section;
    with_id(result.membranes, id).kind = kind;
    return result;
}

Section set_sealed_laps(const Section& section, const std::string& id, std::optional<bool> sealed) {
    Section result = section;
    with_id(result.membranes, id).sealed_laps = sealed;
    return result;
}

Section delete_membrane(const Section& section, const std::string& id) {
    Section result = section;
    with_id(result.membranes, id);
    std::erase_if(result.membranes, [&](const Membrane& membrane) { return membrane.id == id; });
    edit::leave_groups(result, id);
    return result;
}

Section add_space(const Section& section, SpaceKind kind, Point at, std::optional<double> celsius) {
    if (section.spaces.size() >= most_spaces) refuse("too-many-spaces", {{"limit", std::to_string(most_spaces)}}, at);
    Section result = section;
    Space space;
    space.id = to_string(kind);
    const bool taken = find_space(section, space.id) || find_piece(section, space.id) || find_membrane(section, space.id);
    if (taken) space.id = edit::free_id(section, space.id + "-", 2);
    space.kind = kind;
    space.at = {at};
    space.temperature = celsius;
    need_temperature(space);
    result.spaces.push_back(std::move(space));
    return result;
}

Section add_mark(const Section& section, const std::string& space_id, Point at) {
    Section result = section;
    Space& space = with_id(result.spaces, space_id);
    std::vector<Point> marks = space.at;
    if (std::find(marks.begin(), marks.end(), at) == marks.end()) marks.push_back(at);
    set_marks(space, std::move(marks));
    return result;
}

Section move_mark(const Section& section, const std::string& space_id, Point from, Point to) {
    Section result = section;
    *mark_at(with_id(result.spaces, space_id), from) = to;
    return result;
}

Section delete_mark(const Section& section, const std::string& space_id, Point at) {
    Section result = section;
    Space& space = with_id(result.spaces, space_id);
    std::vector<Point> marks = space.at;
    marks.erase(marks.begin() + (mark_at(space, at) - space.at.begin()));
    const bool fills = std::any_of(section.pieces.begin(), section.pieces.end(),
                                   [&](const Piece& piece) { return piece.fill == Fill::space && piece.filled_with == space_id; });
    if (marks.empty() && !fills) return delete_space(section, space_id);
    set_marks(space, std::move(marks));
    return result;
}

Section delete_space(const Section& section, const std::string& space_id) {
    Section result = section;
    with_id(result.spaces, space_id);
    for (const Piece& piece : section.pieces)
        if (piece.fill == Fill::space && piece.filled_with == space_id)
            refuse("edit-space-in-use", {{"space", space_id}, {"piece", piece.name.empty() ? piece.id : piece.name}}, piece.outline.front());
    std::erase_if(result.spaces, [&](const Space& space) { return space.id == space_id; });
    return result;
}

Section rename_space(const Section& section, const std::string& space_id, const std::string& name) {
    Section result = section;
    Space& space = with_id(result.spaces, space_id);
    for (const Space& other : section.spaces)
        if (!name.empty() && other.id != space_id && other.name == name) refuse("space-name-taken", {{"name", name}});
    space.name = name;
    return result;
}

Section set_space_kind(const Section& section, const std::string& space_id, SpaceKind kind) {
    Section result = section;
    Space& space = with_id(result.spaces, space_id);
    space.kind = kind;
    if (kind != SpaceKind::unheated) space.balance.reset();
    need_temperature(space);
    return result;
}

Section set_temperature(const Section& section, const std::string& space_id, std::optional<double> celsius) {
    Section result = section;
    Space& space = with_id(result.spaces, space_id);
    space.temperature = celsius;
    if (celsius) space.balance.reset();
    need_temperature(space);
    return result;
}

Section set_balance(const Section& section, const std::string& space_id, const std::string& balance) {
    Section result = section;
    Space& space = with_id(result.spaces, space_id);
    if (space.kind != SpaceKind::unheated) refuse("balance-of-heated", {{"space", space.id}}, space.at.empty() ? std::optional<Point>{} : space.at.front());
    space.balance = balance;
    space.temperature.reset();
    return result;
}

Section set_water(const Section& section, const Water& water) {
    if (water.water_level) edit::check_limit({0, *water.water_level});
    Section result = section;
    result.water = water == Water{} ? std::nullopt : std::optional(water);
    return result;
}

Section set_level(const Section& section, LevelKind kind, std::optional<Side> side, std::optional<Micrometres> height) {
    if (height && std::abs(*height) > coordinate_limit) refuse("coordinate-too-large", {}, Point{0, *height});
    Section result = section;
    Level& level = level_of(result, kind);
    if (!side) {
        level = Level{.both = height, .left = {}, .right = {}};
        return result;
    }
    if (level.both) level.left = level.right = std::exchange(level.both, std::nullopt);
    (*side == Side::left ? level.left : level.right) = height;
    if (!height) (*side == Side::left ? level.left_extra : level.right_extra) = {};
    return result;
}

Section set_cut(const Section& section, const Rect& cut) {
    if (cut.left >= cut.right || cut.bottom >= cut.top) refuse("cut-empty", {}, Point{cut.left, cut.bottom});
    Section result = section;
    result.cut = cut;
    return result;
}

Section set_beyond(const Section& section, CutSide side, std::optional<Beyond> beyond) {
    Section result = section;
    if (!beyond) {
        result.beyond.erase(side);
        return result;
    }
    const Rect& cut = section.cut;
    if (beyond->distance < 0) refuse("edit-negative-distance");
    const Micrometres from_origin = side == CutSide::left ? -cut.left : side == CutSide::bottom ? -cut.bottom : side == CutSide::right ? cut.right : cut.top;
    if (beyond->distance > coordinate_limit - from_origin) refuse("beyond-too-far", {}, Point{cut.left, cut.bottom});
    result.beyond[side] = *beyond;
    return result;
}

}  // namespace wallfoot
