// SPDX-License-Identifier: GPL-3.0-or-later
// A thousand random edits: whatever is drawn stays sound, shows the areas an independent library finds, is the same after
// saving and opening, is the same when done again, and no filling gains or loses by splitting and merging. (That an edit
// leaves what was before it as it was needs no test: it takes a constant.)
#define BOOST_GEOMETRY_NO_ROBUSTNESS  // its rescaling would lose what the tolerance asks for
#include <boost/geometry.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>
#include <random>

#include "core/arrangement/parts.hpp"
#include "core/file/study_file.hpp"
#include "core/geometry/outline_check.hpp"
#include "core/study/edits.hpp"
#include "tests/unit/arrangement/sections.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot::testing {
namespace {

namespace bg = boost::geometry;
using Corner = bg::model::point<long double, 2, bg::cs::cartesian>;
using Polygon = bg::model::polygon<Corner, false, true>;
using Area = bg::model::multi_polygon<Polygon>;

Area area_of(const Outline& outline, const std::vector<Outline>& holes = {}) {
    Polygon polygon;
    const auto put = [](auto& ring, const Outline& points) {
        for (const Point p : points) bg::append(ring, Corner(static_cast<long double>(p.x), static_cast<long double>(p.y)));
    };
    put(polygon.outer(), outline);
    polygon.inners().resize(holes.size());
    for (std::size_t i = 0; i < holes.size(); ++i) put(polygon.inners()[i], holes[i]);
    bg::correct(polygon);
    return {polygon};
}

Area minus(const Area& a, const Area& b) {
    Area out;
    bg::difference(a, b, out);
    return out;
}

/// A hole shows what lies below, and so does a hole that touches the outline: taken out one by one.
Area area_of(const Piece& piece) {
    Area area = area_of(piece.outline);
    for (const Outline& hole : piece.holes) area = minus(area, area_of(hole));
    return area;
}

double length_of(const Section& s) {
    double length = 2.0 * static_cast<double>(s.cut.width() + s.cut.height());
    for (const Piece& piece : s.pieces)
        for (const auto* ring : [&] {
                 std::vector<const Outline*> rings{&piece.outline};
                 for (const Outline& hole : piece.holes) rings.push_back(&hole);
                 return rings;
             }())
            for (std::size_t i = 0; i < ring->size(); ++i) {
                const Point a = (*ring)[i], b = (*ring)[(i + 1) % ring->size()];
                length += std::hypot(static_cast<double>(a.x - b.x), static_cast<double>(a.y - b.y));
            }
    return length;
}

/// What is seen of every piece and of bare air, against differences of polygons from the topmost down.
void expect_same_areas(const Section& s, const std::string& where) {
    Section drawn = s;
    drawn.beyond.clear();
    const Arrangement arrangement = arrange(study(), drawn);
    ASSERT_EQ(validate(arrangement), std::vector<std::string>{}) << where;
    // Snapping moves a line by at most a micrometre or so: its area changes by no more than its length times that.
    const double allowed = 2 * length_of(s);
    Area open = area_of(rectangle_outline({s.cut.left, s.cut.bottom}, {s.cut.right, s.cut.top}));
    for (int i = static_cast<int>(s.pieces.size()) - 1; i >= 0; --i) {
        const Area rest = minus(open, area_of(s.pieces[static_cast<std::size_t>(i)]));
        ASSERT_NEAR(static_cast<double>(visible2(arrangement, i)) / 2, static_cast<double>(bg::area(open) - bg::area(rest)), allowed)
            << where << ", piece " << s.pieces[static_cast<std::size_t>(i)].id;
        open = rest;
    }
    ASSERT_NEAR(static_cast<double>(visible2(arrangement, -1)) / 2, static_cast<double>(bg::area(open)), allowed) << where;
}

/// What is seen of every filling, doubled µm².
std::map<std::string, double> fillings_of(const Section& s) {
    Section drawn = s;
    drawn.beyond.clear();
    const Arrangement arrangement = arrange(study(), drawn);
    std::map<std::string, double> seen;
    for (std::size_t i = 0; i < s.pieces.size(); ++i) seen[s.pieces[i].filled_with] += static_cast<double>(visible2(arrangement, static_cast<int>(i)));
    return seen;
}

void expect_same_fillings(const Section& before, const Section& after, const std::string& where) {
    const double allowed = 2 * (length_of(before) + length_of(after));  // what snapping may move, as above
    const auto was = fillings_of(before), is = fillings_of(after);
    ASSERT_EQ(was.size(), is.size()) << where;
    for (const auto& [filling, area] : was) ASSERT_NEAR(is.at(filling), area, 2 * allowed) << where << ", " << filling;
}

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
std::pair<std::string, Edit> draw_edit(Hand& hand, const Section& s) {
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
    switch (full ? 9 + hand.upto(25) : hand.upto(34)) {
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
        default: return {"note", [=](const Section& t) { return add_note(t, {"", place, "here", {}}); }};
    }
}

Section begun() {
    Section s = section(0, 0, 1000, 1000);
    s.floor.both = 500'000;
    s.spaces = {space("in", SpaceKind::inside, {mm(50, 950)})};
    s.spaces.front().single_mark = true;
    s.pieces = {solid("ground", box(-200, -200, 1200, 150), "soil"), solid("slab", box(0, 150, 600, 300)), solid("wall", box(600, 0, 800, 1000)), solid("skin", box(800, 0, 900, 1000))};
    s.pieces[0].holes = {box(300, 40, 360, 80)};
    s.membranes = {{"m", MembraneKind::dpc, {mm(600, 300), mm(900, 300)}, {}, {}}};
    return s;
}

TEST(RandomEdits, leave_a_sound_drawing_that_is_kept_and_shows_the_right_areas) {
    Study study = read_study(test::small_study()).study;
    study.materials.back().id = "soil";  // and "block" is there
    std::map<std::string, int> made;
    int edits = 0, refused = 0;
    for (unsigned seed = 1; seed <= 20; ++seed) {
        Hand hand(seed);
        auto present = std::make_shared<const Section>(begun());
        for (int done = 0; done < 50;) {
            const auto [name, edit] = draw_edit(hand, *present);
            const std::string where = "seed " + std::to_string(seed) + ", edit " + std::to_string(done) + ", " + name;
            Section after;
            try {
                after = edit(*present);
            } catch (const InputFault& fault) {
                EXPECT_NE(english(fault.faults().front()).find(' '), std::string::npos) << where << ": " << fault.what();
                ++refused;
                continue;
            }
            if (after == *present) continue;
            ASSERT_EQ(edit(*present), after) << where << ": done again it is the same";
            for (const Piece& piece : after.pieces) {
                ASSERT_FALSE(check_outline(piece.outline)) << where << ", piece " << piece.id;
                for (const Outline& hole : piece.holes) ASSERT_FALSE(check_hole(piece.outline, hole)) << where << ", piece " << piece.id;
            }
            expect_same_areas(after, where);
            // Nothing is gained or lost by cutting and joining: every filling shows what it showed.
            if (name == "split" || name == "merge") expect_same_fillings(*present, after, where);
            if (HasFatalFailure()) return;
            study.variants[0].section = std::make_shared<const Section>(after);
            const ReadStudy read = read_study(write_study(study));
            ASSERT_EQ(*read.study.variants[0].section, after) << where;
            present = study.variants[0].section;
            ++made[name];
            ++edits;
            ++done;
        }
    }
    EXPECT_EQ(edits, 1000);
    for (const char* name : {"add_piece", "copy", "duplicate", "paste", "split", "delete", "move_corner", "move_edge", "insert_corner", "remove_corner", "move", "rotate", "mirror", "mirror_section",
                             "reorder", "stretch", "move_beyond", "merge", "offset_edge", "add_hole", "delete_hole", "move_hole", "measure", "dimension", "group", "note"})
        EXPECT_GT(made[name], 0) << name;
    std::string list;
    for (const auto& [name, times] : made) list += " " + name + " " + std::to_string(times);
    RecordProperty("edits", list + ", refused " + std::to_string(refused));
}

}  // namespace
}  // namespace wallfoot::testing
