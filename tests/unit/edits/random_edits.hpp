// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <random>
#include <string>
#include <vector>

#include "core/arrangement/parts.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "tests/unit/arrangement/sections.hpp"
#include "tests/unit/file/sample_study.hpp"

// Edits drawn at random, the same for every machine.
namespace wallfoot::testing {

class Hand {
  public:
    explicit Hand(unsigned seed) : random_(seed) {}
    int upto(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
    /// Mostly whole steps of 10 mm, so that edges meet; now and then any place of the grid.
    Micrometres length(int most_mm) { return upto(8) == 0 ? upto(most_mm * 1000) + 1 : (upto(most_mm / 10) + 1) * 10'000; }
    Micrometres shift() { return (upto(2) ? 1 : -1) * length(80); }
    Point place() { return {length(1200) - 100'000, length(1200) - 100'000}; }
    const Piece& piece(const Section& s) { return s.pieces[random_() % s.pieces.size()]; }
    Point corner(const Section& s) {
        const Piece& of = piece(s);
        return of.outline[random_() % of.outline.size()];
    }
    Taken some(const Section& s) {
        Taken taken;
        for (const Piece& candidate : s.pieces)
            if (upto(3) == 0) taken.pieces.push_back(candidate.id);
        if (taken.pieces.empty()) taken.pieces.push_back(piece(s).id);
        for (const Membrane& membrane : s.membranes)
            if (upto(3) == 0) taken.membranes.push_back(membrane.id);
        for (const Dimension& dimension : s.dimensions)
            if (upto(3) == 0) taken.dimensions.push_back(dimension.id);
        for (const Note& note : s.texts)
            if (upto(3) == 0) taken.texts.push_back(note.id);
        return taken;
    }
    std::mt19937& random() { return random_; }

  private:
    std::mt19937 random_;
};

using Edit = std::function<Section(const Section&)>;

/// One edit with its name, drawn at random; applied twice it does the same twice.
inline std::pair<std::string, Edit> draw_edit(Hand& hand, const Section& s) {
    const bool full = s.pieces.size() > 12;
    const std::string id = hand.piece(s).id;
    const Point corner = hand.corner(s), place = hand.place(), other = hand.place();
    const Micrometres dx = hand.shift(), dy = hand.shift(), length = hand.length(300);
    const Taken taken = hand.some(s);
    const auto& outline = find_piece(s, id)->outline;
    const std::size_t edge = hand.random()() % outline.size();
    const Point a = outline[edge], b = outline[(edge + 1) % outline.size()];
    const Micrometres size = hand.length(200) + 20'000;
    const std::size_t index = hand.random()() % (s.pieces.size() + 1);
    const bool flag = hand.upto(2) == 0;
    const std::string way = std::vector<std::string>{"left", "right", "up", "down"}[static_cast<std::size_t>(hand.upto(4))];
    const double degrees = std::vector<double>{90, 180, 270, 90, 33}[static_cast<std::size_t>(hand.upto(5))];
    switch (full ? 9 + hand.upto(29) : hand.upto(38)) {
        case 0: case 1: case 2: return {"add_piece", [=](const Section& t) { return add_piece(t, solid("", rectangle_outline(place, other), flag ? "block" : "soil")); }};
        case 3: return {"copy", [=](const Section& t) { return copy_taken(t, {.pieces = {id}}, 2, dx, dy); }};
        case 4: return {"duplicate", [=](const Section& t) { return duplicate_piece(t, id); }};
        case 5: return {"paste", [=](const Section& t) { return paste_taken(t, t, taken, dx, dy); }};
        case 6: case 7: case 8: return {"split", [=](const Section& t) { return split_piece(t, id, corner, place); }};
        case 9: case 10: case 11: return {"delete", [=](const Section& t) { return t.pieces.size() > 4 ? delete_taken(t, {.pieces = {id}}) : t; }};
        case 12: case 13: return {"move_corner", [=](const Section& t) { return move_corner(t, corner, {corner.x + dx, corner.y + dy}); }};
        case 14: case 15: return {"move_edge", [=](const Section& t) { return move_edge(t, a, b, flag ? dx : 0, flag ? 0 : dy); }};
        case 16: return {"insert_corner", [=](const Section& t) { return insert_corner(t, {(a.x + b.x) / 2, (a.y + b.y) / 2}); }};
        case 17: return {"remove_corner", [=](const Section& t) { return remove_corner(t, corner); }};
        case 18: case 19: return {"move", [=](const Section& t) { return move_taken(t, taken, dx, dy); }};
        case 20: return {"rotate", [=](const Section& t) { return rotate_taken(t, taken, corner, degrees); }};
        case 21: return {"mirror", [=](const Section& t) { return mirror_taken(t, taken, flag, corner.x); }};
        case 22: return {"mirror_section", mirror_section};
        case 23: return {"reorder", [=](const Section& t) { return reorder_piece(t, id, index); }};
        case 24: case 25: return {"stretch", [=](const Section& t) { return stretch_section(t, flag, flag ? corner.x : corner.y, dx > 0, dy); }};
        case 26: return {"move_beyond", [=](const Section& t) { return move_beyond(t, {place, other}, way, dx / 2); }};
        case 27: return {"merge", [=](const Section& t) { return merge_pieces(t, {id, t.pieces[index % t.pieces.size()].id}); }};
        case 28: return {"offset_edge", [=](const Section& t) { return offset_edge(t, id, a, b, dx / 2); }};
        case 29: {
            for (const Piece& holed : s.pieces)
                if (!holed.holes.empty() && flag) {
                    const std::string of = holed.id;
                    if (dy > 0) return {"delete_hole", [=](const Section& t) { return delete_hole(t, of, 0); }};
                    return {"move_hole", [=](const Section& t) { return move_hole(t, of, 0, dx / 4, dy / 4); }};
                }
            return {"add_hole", [=](const Section& t) { return add_hole(t, id, rectangle_outline({corner.x + dx, corner.y + dy}, {corner.x + dx + size / 4, corner.y + dy + size / 4})); }};
        }
        case 30: return {"measure", [=](const Section& t) {
            if (!t.stretch.empty() && flag) return set_stretch(t, t.stretch.back().id, length);
            return add_stretch(t, stretch_through(t, {{(a.x + b.x) / 2, (a.y + b.y) / 2}, {(a.x + b.x) / 2 + 1, (a.y + b.y) / 2 + 1}}, way, find_piece(t, id)));
        }};
        case 31: return {"dimension", [=](const Section& t) {
            if (!t.dimensions.empty() && flag && dy > 0) return move_dimension_end(t, t.dimensions.front().id, dx > 0, place);
            if (!t.dimensions.empty() && flag) return set_dimension(t, t.dimensions.front().id, length, dx > 0);
            return add_dimension(t, {"", a, b, "", dx, "", {}});
        }};
        case 32: return {"group", [=](const Section& t) { return t.groups.empty() ? add_group(t, {id, t.pieces[index % t.pieces.size()].id}) : delete_group(t, t.groups.front().id); }};
        case 33: return {"extent", [=](const Section& t) { return set_extent(t, id, flag ? CutSide::left : CutSide::top, length); }};
        case 34: return {"membrane_length", [=](const Section& t) { return t.membranes.empty() ? t : set_membrane_length(t, t.membranes.front().id, flag ? CutSide::left : CutSide::right, length); }};
        case 35: return {"hidden", [=](const Section& t) {
            if (!t.hidden.empty() && flag) return delete_hidden(t, t.hidden.front().id);
            return add_hidden(t, {"", {a, b}, "skirting", {}});
        }};
        case 36: return {"element", [=](const Section& t) { return set_element_reference(t, flag ? "top" : "wall", CutSide::top, dx > 0 ? LengthSystem::internal : LengthSystem::external, dy > 0 ? std::optional(corner) : std::nullopt); }};
        default: return {"note", [=](const Section& t) { return add_note(t, {"", place, "here", {}}); }};
    }
}

/// What the edits begin with.
inline Section begun() {
    Section s = section(0, 0, 1000, 1000);
    s.floor.both = 500'000;
    s.spaces = {space("in", SpaceKind::inside, {mm(50, 950)})};
    s.spaces.front().single_mark = true;
    s.pieces = {solid("ground", box(-200, -200, 1200, 150), "soil"), solid("slab", box(0, 150, 600, 300)), solid("wall", box(600, 0, 800, 1000)), solid("skin", box(800, 0, 900, 1000))};
    s.pieces[0].holes = {box(300, 40, 360, 80)};
    s.membranes = {{"m", MembraneKind::dpc, {mm(600, 300), mm(900, 300)}, {}, {}}};
    return s;
}

/// A study of that section: its materials are those the edits fill with.
inline Study begun_study() {
    Study study = read_study(test::small_study()).study;
    study.materials.back().id = "soil";  // and "block" is there
    study.variants[0].section = std::make_shared<const Section>(begun());
    return study;
}

}  // namespace wallfoot::testing
