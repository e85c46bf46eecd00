// SPDX-License-Identifier: GPL-3.0-or-later
// A thousand random edits: whatever is drawn stays sound, shows the areas an independent library finds, is the same after
// saving and opening, is the same when done again, and no filling gains or loses by splitting and merging. (That an edit
// leaves what was before it as it was needs no test: it takes a constant.)
#define BOOST_GEOMETRY_NO_ROBUSTNESS  // its rescaling would lose what the tolerance asks for
#include <boost/geometry.hpp>

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "core/file/study_file.hpp"
#include "core/geometry/outline_check.hpp"
#include "tests/unit/edits/random_edits.hpp"

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

TEST(RandomEdits, leave_a_sound_drawing_that_is_kept_and_shows_the_right_areas) {
    Study study = begun_study();
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
