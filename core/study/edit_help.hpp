// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"

// What the edits share; not for others.
namespace wallfoot::edit {

[[noreturn]] void refuse(const std::string& code, std::map<std::string, std::string> args = {}, std::optional<Point> at = {});
/// `stem` with the first number from n on that nothing in the section has as its id.
std::string free_id(const Section& section, const std::string& stem, int n = 1);
/// Refuses a path that is too short or stands still.
void check_path(const Membrane& membrane);
/// Makes `points` corners of every line they lie on; a piece that the bent edge would break keeps its edge.
void insert_corners(Section& section, const std::vector<Point>& points);

/// Refuses an outline or hole that cannot be.
void check_piece(const Piece& piece);
/// Refuses a point beyond 500 m.
void check_limit(Point p);

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
    for (HiddenSurface& hidden : section.hidden)
        for (Point& p : hidden.path) f(p);
    for (Stretch& stretch : section.stretch)
        for (Path* path : {&stretch.line, &stretch.measure})
            for (Point& p : *path) f(p);
    for (Dimension& dimension : section.dimensions)
        for (Point* p : {&dimension.from, &dimension.to}) f(*p);
    for (Note& note : section.texts) f(note.at);
}

/// Ends of dimensions and measures follow the corners they stood on: those in `moved` go along, unless a line of the
/// drawing still has a corner there.
void carry_ends(Section& section, const std::map<Point, Point>& moved);
/// Takes an id out of all groups; a group of fewer than two is none.
void leave_groups(Section& section, const std::string& id);

template <class Thing>
Thing& with_id(std::vector<Thing>& things, const std::string& id) {
    for (Thing& thing : things)
        if (thing.id == id) return thing;
    refuse("edit-unknown-id", {{"id", id}});
}

template <class Thing>
const Thing* found_in(const std::vector<Thing>& things, const std::string& id) {
    for (const Thing& thing : things)
        if (thing.id == id) return &thing;
    return nullptr;
}

}  // namespace wallfoot::edit
