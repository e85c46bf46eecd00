// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/edits_elements.hpp"

#include <gtest/gtest.h>

#include <functional>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/text/message.hpp"
#include "tests/unit/arrangement/sections.hpp"
#include "tests/unit/file/sample_study.hpp"

using namespace wallfoot;

namespace {

Section bare() {
    Section section;
    section.cut = {-1'000'000, -500'000, 500'000, 1'000'000};
    Space in;
    in.id = "in";
    section.spaces = {in};
    return section;
}

std::string refused(const std::function<void()>& edit) {
    try {
        edit();
    } catch (const InputFault& fault) {
        EXPECT_FALSE(english(fault.faults().front()).starts_with(fault.faults().front().code)) << "no sentence";
        return fault.faults().front().code;
    }
    return "";
}

}  // namespace

TEST(EditsOfElements, a_reference_is_stated_and_taken_back) {
    const Section before = bare();
    const Section stated = set_element_reference(before, "left-2", CutSide::left, LengthSystem::internal, Point{0, 10'000});
    ASSERT_EQ(stated.elements.size(), 1u);
    EXPECT_EQ(stated.elements[0].id, "left-2");
    EXPECT_EQ(stated.elements[0].internal, (Point{0, 10'000}));
    EXPECT_FALSE(stated.elements[0].external);
    const Section both = set_element_reference(stated, "left-2", CutSide::left, LengthSystem::external, Point{100'000, 0});
    ASSERT_EQ(both.elements.size(), 1u) << "one entry for one element";
    EXPECT_EQ(both.elements[0].external, (Point{100'000, 0}));
    EXPECT_EQ(set_element_reference(set_element_reference(both, "left-2", CutSide::left, LengthSystem::external, {}), "left-2", CutSide::left, LengthSystem::internal, {}), before);
    EXPECT_EQ(set_element_reference(before, "top", CutSide::top, LengthSystem::internal, {}), before) << "nothing to take back";
}

TEST(EditsOfElements, a_name_of_the_users_own_outlives_what_is_stated) {
    Section section = bare();
    ElementOverride wall;
    wall.id = "wall";
    wall.cut = CutSide::top;
    wall.internal = Point{0, 0};
    section.elements = {wall};
    const Section freed = set_element_reference(section, "wall", CutSide::top, LengthSystem::internal, {});
    ASSERT_EQ(freed.elements.size(), 1u) << "else the element would be called by its side again";
    EXPECT_FALSE(freed.elements[0].internal);
}

TEST(EditsOfElements, what_would_break_the_file_or_the_length_is_refused) {
    const Section section = set_element_reference(bare(), "top", CutSide::left, LengthSystem::internal, Point{0, 0});
    EXPECT_EQ(refused([&] { set_element_reference(section, "top", CutSide::top, LengthSystem::internal, Point{0, 0}); }), "duplicate-id");
    EXPECT_EQ(refused([&] { set_element_reference(section, "a", CutSide::top, LengthSystem::internal, Point{0, 1'000'001}); }), "element-beyond-its-cut");
    EXPECT_EQ(refused([&] { set_element_reference(section, "a", CutSide::left, LengthSystem::internal, Point{-1'000'001, 0}); }), "element-beyond-its-cut");
    EXPECT_EQ(refused([&] { set_element_reference(section, "a", CutSide::right, LengthSystem::internal, Point{500'001, 0}); }), "element-beyond-its-cut");
    EXPECT_EQ(refused([&] { set_element_reference(section, "a", CutSide::bottom, LengthSystem::internal, Point{0, -500'001}); }), "element-beyond-its-cut");
    EXPECT_EQ(refused([&] { set_element_reference(section, "a", CutSide::bottom, LengthSystem::internal, Point{0, coordinate_limit + 1}); }), "coordinate-too-large");
}

TEST(EditsOfElements, mirrored_an_element_is_called_by_its_other_side) {
    const Section stated = set_element_reference(bare(), "left-2", CutSide::left, LengthSystem::internal, Point{0, 10'000});
    const Section mirrored = mirror_section(stated);
    ASSERT_TRUE(find_element(mirrored, "right-2", CutSide::right)) << "else it would be taken for the first one on that side";
    EXPECT_EQ(find_element(mirrored, "right-2", CutSide::right)->internal, (Point{-500'000, 10'000}));
    EXPECT_EQ(mirror_section(mirrored), stated);
}

TEST(EditsOfElements, mirrored_the_walls_at_the_top_are_numbered_from_the_other_end) {
    // Two walls between three rooms: "top" and "top-2" from left to right.
    Section walls = wallfoot::testing::section(0, 0, 1000, 1000);
    walls.spaces = {wallfoot::testing::space("a", SpaceKind::inside, {wallfoot::testing::mm(100, 500)}), wallfoot::testing::space("b", SpaceKind::unheated, {wallfoot::testing::mm(500, 500)}), wallfoot::testing::space("c", SpaceKind::outside, {wallfoot::testing::mm(900, 500)})};
    walls.pieces = {wallfoot::testing::solid("one", wallfoot::testing::box(200, 0, 300, 1000)), wallfoot::testing::solid("two", wallfoot::testing::box(700, 0, 800, 1000))};
    const Section first = set_element_reference(walls, "top", CutSide::top, LengthSystem::internal, wallfoot::testing::mm(300, 200));
    const Section mirrored = mirror_section(first);
    ASSERT_EQ(mirrored.elements.size(), 1u);
    EXPECT_EQ(mirrored.elements[0].id, "top-2") << "the wall at 200 to 300 mm is the right one now";
    EXPECT_EQ(mirrored.elements[0].internal, wallfoot::testing::mm(700, 200));
    EXPECT_EQ(mirror_section(mirrored), first);
    const Section both = set_element_reference(first, "top-2", CutSide::top, LengthSystem::internal, wallfoot::testing::mm(800, 200));
    EXPECT_EQ(mirror_section(both).elements[0].id, "top-2");
    EXPECT_EQ(mirror_section(both).elements[1].id, "top");
    const Section named = set_element_reference(walls, "party", CutSide::top, LengthSystem::internal, wallfoot::testing::mm(300, 200));
    EXPECT_EQ(refused([&] { mirror_section(named); }), "mirror-other-element") << "by order it goes to the first wall, which is the other one then";
    Section unsettled = set_element_reference(walls, "top-2", CutSide::top, LengthSystem::internal, wallfoot::testing::mm(800, 200));
    unsettled.spaces.pop_back();
    EXPECT_EQ(refused([&] { mirror_section(unsettled); }), "mirror-unsettled");
    Section alone = first;
    alone.pieces.pop_back();
    alone.spaces.pop_back();
    alone.spaces.back().at = {wallfoot::testing::mm(500, 500)};
    EXPECT_EQ(mirror_section(alone).elements[0].id, "top");
}

TEST(EditsOfElements, corrections_are_stated_and_none_of_them_is_nothing) {
    ElementCorrections corrections;
    corrections.air_gap_level = 1;
    corrections.air_gap_layer = "ins";
    const Section stated = set_element_corrections(bare(), "top", CutSide::top, corrections);
    ASSERT_TRUE(find_element(stated, "top", CutSide::top));
    EXPECT_EQ(find_element(stated, "top", CutSide::top)->corrections, corrections);
    EXPECT_FALSE(find_element(stated, "top", CutSide::left));
    EXPECT_EQ(set_element_corrections(stated, "top", CutSide::top, ElementCorrections{}), bare());
    EXPECT_EQ(set_element_corrections(bare(), "top", CutSide::top, ElementCorrections{}), bare());
}

TEST(EditsOfHidden, a_stretch_needs_a_reason_and_a_length) {
    const HiddenSurface skirting{"", {{0, 0}, {0, 100'000}}, "skirting", {}};
    const Section before = bare(), hidden = add_hidden(before, skirting);
    ASSERT_EQ(hidden.hidden.size(), 1u);
    EXPECT_EQ(hidden.hidden[0].id, "h1");
    EXPECT_EQ(add_hidden(hidden, skirting).hidden[1].id, "h2");
    EXPECT_EQ(delete_hidden(hidden, "h1"), before);
    HiddenSurface other = hidden.hidden[0];
    other.reason = " ";
    EXPECT_EQ(refused([&] { change_hidden(hidden, other); }), "hidden-without-reason");
    EXPECT_EQ(refused([&] { add_hidden(before, {"", {{0, 0}}, "x", {}}); }), "path-too-short");
    EXPECT_EQ(refused([&] { add_hidden(before, {"", {{0, 0}, {0, 0}}, "x", {}}); }), "path-repeated-point");
    EXPECT_EQ(refused([&] { add_hidden(before, {"", {{0, 0}, {0, coordinate_limit + 1}}, "x", {}}); }), "coordinate-too-large");
    EXPECT_EQ(refused([&] { add_hidden(hidden, {"h1", {{0, 0}, {0, 1}}, "x", {}}); }), "duplicate-id");
    EXPECT_EQ(refused([&] { delete_hidden(before, "h1"); }), "edit-unknown-id");
    other.reason = "lining";
    EXPECT_EQ(change_hidden(hidden, other).hidden[0].reason, "lining");
}

TEST(EditsOfSpaces, a_space_belongs_to_one_of_two_dwellings_or_to_none) {
    const Section own = set_space_side(bare(), "in", "own");
    EXPECT_EQ(own.spaces[0].side, "own");
    EXPECT_EQ(set_space_side(own, "in", ""), bare());
    EXPECT_EQ(refused([&] { set_space_side(own, "in", "mine"); }), "space-side-unknown");
    EXPECT_EQ(refused([&] { set_space_side(own, "out", "own"); }), "edit-unknown-id");
}

TEST(EditsOfElements, what_was_stated_is_read_back_from_the_file) {
    Study study = read_study(test::small_study()).study;
    ElementCorrections corrections;
    corrections.fixings.push_back({"p1", 17, 12.6, 4, 80'000, true, {}});
    Section section = *study.variants[0].section;
    section = set_element_reference(section, "top", CutSide::top, LengthSystem::external, Point{section.cut.left, section.cut.bottom});
    section = set_element_corrections(section, "top", CutSide::top, corrections);
    section = add_hidden(section, {"", {{0, 0}, {0, 1000}}, "skirting", {}});
    section = set_space_side(section, section.spaces[0].id, "neighbour");
    study = with_section(study, 0, section);
    EXPECT_EQ(*read_study(write_study(study)).study.variants[0].section, section);
}
