// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/water/remedy.hpp"

#include "core/file/study_file.hpp"
#include "tests/unit/tree.hpp"
#include "tests/unit/water/drafts.hpp"

// Smallest remedies worked out by hand, with the weights of the rule set: 1 for damp course and floor membrane, 3 for
// tanking (common practice, no source).

namespace wallfoot {
namespace {

using namespace water_drafts;
using enum RemedyAnswer;

void expect_run(const Remedy& remedy, std::size_t index, RemedyKind kind, const Path& path) {
    ASSERT_EQ(remedy.answer, proposed);
    ASSERT_LT(index, remedy.runs.size());
    EXPECT_EQ(remedy.runs[index].kind, kind);
    EXPECT_EQ(remedy.runs[index].path, path);
}

/// Builds what is proposed; the piece must then be dry wherever the remedy was asked for.
void expect_it_works(const Draft& d, const std::string& id) {
    const Remedy found = remedy(d, id);
    if (found.answer != proposed) return;
    Draft built = d;
    built.section = with_remedy(d.section, found);
    EXPECT_EQ(remedy(built, id).answer, none_needed) << d.name << " " << id;
    for (std::size_t skip = d.section.membranes.size(); skip < built.section.membranes.size(); ++skip) {
        Draft less = built;
        less.section.membranes.erase(less.section.membranes.begin() + static_cast<std::ptrdiff_t>(skip));
        EXPECT_EQ(remedy(less, id).answer, proposed) << d.name << " " << id << ": one run was too many";
    }
}

TEST(Remedy, of_a_bare_wall_is_a_damp_course_under_the_piece) {
    const Draft d = wall("bare");
    expect_run(remedy(d, "upper"), 0, RemedyKind::damp_course, {mm(0, 0), mm(100, 0)});
    EXPECT_DOUBLE_EQ(remedy(d, "upper").length, from_mm(100));
    expect_run(remedy(d, "foot"), 0, RemedyKind::damp_course, {mm(0, -100), mm(100, -100)});
    expect_it_works(d, "upper");
    expect_it_works(d, "foot");
}

TEST(Remedy, none_is_needed_where_no_path_is_drawn) {
    const Remedy dry = remedy(wall("dpc").membrane("dpc", {{0, 0}, {100, 0}}), "upper");
    EXPECT_EQ(dry.answer, none_needed);
    EXPECT_EQ(dry.relies_on, std::vector<int>{0});
    EXPECT_EQ(remedy(wall("lap").membrane("a", {{0, 0}, {60, 0}}).membrane("b", {{40, 0}, {100, 0}}), "upper").answer, seal_laps);
}

TEST(Remedy, of_a_gap_of_a_micrometre_is_a_micrometre_long) {
    const Draft d = wall("short").membrane("dpc", {{0, 0}, {99.999, 0}});
    EXPECT_DOUBLE_EQ(remedy(d, "upper").length, 1);
    EXPECT_EQ(remedy(d, "upper").runs.at(0).joins, std::vector<int>{0}) << "it is lapped to what is there";
}

// 500 mm under the slab, and either 100 mm of upright edge at three times the price or 100 mm under the foot.
TEST(Remedy, of_a_slab_beside_a_wall_runs_under_both) {
    const Draft d = slab("slab");
    const Remedy found = remedy(d, "slab");
    EXPECT_DOUBLE_EQ(found.length, from_mm(600));
    EXPECT_NEAR(found.cost, from_mm(600), 1e-6 * from_mm(600));
    expect_run(found, 0, RemedyKind::floor_membrane, {mm(-500, -100), mm(0, -100)});
    expect_run(found, 1, RemedyKind::damp_course, {mm(0, -100), mm(100, -100)});
    expect_it_works(d, "slab");
    expect_run(remedy(d, "upper"), 0, RemedyKind::damp_course, {mm(0, 0), mm(100, 0)});
}

TEST(Remedy, of_fill_beside_the_block_is_tanking_of_its_height) {
    const Draft d = cavity_wall("fill", -50).membrane("dpc", {{0, -100}, {100, -100}});
    const Remedy found = remedy(d, "foot");
    expect_run(found, 0, RemedyKind::tanking, {mm(100, -100), mm(100, -50)});
    EXPECT_DOUBLE_EQ(found.length, from_mm(50));
    EXPECT_NEAR(found.cost, 3 * from_mm(50), 1);
    expect_it_works(d, "foot");
    // Without the damp course: 100 in the bed at -100 and 50 × 3 beside it, 250 in all.
    const Remedy both = remedy(cavity_wall("fill, no dpc", -50), "foot");
    EXPECT_DOUBLE_EQ(both.length, from_mm(150));
    EXPECT_NEAR(both.cost, from_mm(250), 1);
}

TEST(Remedy, follows_course_lines_and_levels) {
    Draft d = wall("one piece beside a bank").piece("bank", "soil", 100, -100, 500, 100);
    d.section.pieces.erase(d.section.pieces.begin() + 1, d.section.pieces.begin() + 3);
    d.piece("leaf", "block", 0, -100, 100, 1000);
    // All of the leaf: its foot and 200 mm of side.
    EXPECT_DOUBLE_EQ(remedy(d, "leaf").length, from_mm(300));
    d.section.dpc.both = from_mm(150);
    const Remedy above = remedy(d, "leaf");
    EXPECT_TRUE(above.above_dpc);
    expect_run(above, 0, RemedyKind::damp_course, {mm(0, 150), mm(100, 150)});
    expect_it_works(d, "leaf");
}

TEST(Remedy, never_crosses_a_gas_membrane) {
    Draft d = wall("gas through the bed").membrane("gas", {{50, -50}, {50, 50}}, MembraneKind::gas);
    expect_run(remedy(d, "upper"), 0, RemedyKind::damp_course, {mm(0, -100), mm(100, -100)});
    d.section.membranes[0].kind = MembraneKind::tanking;
    EXPECT_EQ(remedy(d, "upper").runs.at(0).path.front().y, 0) << "any other membrane may be cut and lapped";
    Draft courses = wall("gas through both beds").membrane("gas", {{50, -150}, {50, 50}}, MembraneKind::gas);
    EXPECT_EQ(remedy(courses, "upper").answer, none_found);
    courses.section.membranes[0].path = {mm(50, -10), mm(50, 50)};
    courses.piece("foot", "block", 0, -100, 100, 0);
    courses.section.pieces.erase(courses.section.pieces.begin() + 1);
    courses.section.pieces.back().courses = Courses{from_mm(-100), from_mm(40), {}};
    expect_run(remedy(courses, "upper"), 0, RemedyKind::damp_course, {mm(0, -20), mm(100, -20)});
}

TEST(Remedy, that_meets_a_gas_membrane_says_so) {
    const Draft d = wall("gas beside the bed").membrane("gas", {{0, -100}, {0, 1000}}, MembraneKind::gas);
    expect_run(remedy(d, "upper"), 0, RemedyKind::damp_course, {mm(0, 0), mm(100, 0)});
    EXPECT_EQ(remedy(d, "upper").runs[0].at_gas, std::vector<int>{0});
}

TEST(Remedy, a_water_level_above_the_bed_removes_it) {
    const Draft d = wall("level");
    EXPECT_EQ(remedy(d, "upper").answer, proposed);
    EXPECT_EQ(remedy(Draft(d).level(-50), "foot").answer, water_level);
    EXPECT_EQ(remedy(Draft(d).level(10), "upper").answer, water_level);
    expect_run(remedy(Draft(d).level(0), "upper"), 0, RemedyKind::damp_course, {mm(0, 0), mm(100, 0)});
}

TEST(Remedy, is_not_laid_between_soil_and_loose_fill) {
    Draft d("hardcore");
    d.piece("soil", "soil", -500, -500, 500, -200).piece("hardcore", "hardcore", -500, -200, 500, -100)
        .piece("foam", "foam", -500, -250, 300, -200).piece("slab", "concrete", -500, -100, 500, 0).space("in", SpaceKind::inside, 0, 500);
    // The two touch over 200 mm only, but the membrane lies under the slab.
    expect_run(remedy(d, "slab"), 0, RemedyKind::floor_membrane, {mm(-500, -100), mm(500, -100)});
}

TEST(Remedy, of_a_face_in_the_rain_is_none) {
    const Remedy found = remedy(wall("rain").water(true, true, false), "upper");
    EXPECT_EQ(found.answer, at_source);
    EXPECT_EQ(found.source, WaterFrom::rain);
}

TEST(Remedy, is_the_same_in_the_mirror) {
    for (const Draft& d : {wall("bare"), slab("slab"), cavity_wall("low", -150), cavity_wall("high", -40),
                           cavity_wall("higher", 50).membrane("dpc", {{0, -100}, {100, -100}})})
        for (const char* id : {"foot", "upper"}) {
            const Remedy a = remedy(d, id), b = remedy(mirrored(d), id);
            EXPECT_EQ(a.answer, b.answer) << d.name;
            EXPECT_DOUBLE_EQ(a.length, b.length) << d.name;
            EXPECT_DOUBLE_EQ(a.cost, b.cost) << d.name;
            expect_it_works(d, id);
        }
}

/// A sample as a draft, the variant "foam".
Draft sample(const std::string& name) {
    const Study study = load_study(in_tree("samples/" + std::string(name) + ".wallfoot")).study;
    Draft d(name);
    d.study = study;
    d.section = *study.find_variant("foam")->section;
    d.section.membranes.clear();
    return d;
}

// Common practice, no source: insulation below the slab, floor membrane turned up over the block, cavity drained below
// it: water reaches the block from below only, and one damp course under it closes it.
TEST(SampleWater, insulation_below_the_slab_needs_one_damp_course_under_the_block) {
    Draft d = sample("slab-insulation-below");
    d.membrane("dpm", {{-1500, -305}, {0, -305}, {0, -75}, {100, -75}}, MembraneKind::dpm).membrane("dpc-outer", {{250, -75}, {352.5, -75}});
    EXPECT_EQ(way_to(d, "foot-below"), (std::vector<std::string>{"soil", "leaf-base", "foot-below"}));
    EXPECT_EQ(state(d, "foot-above"), WaterState::no_path);
    const Remedy found = remedy(d, "foot-below");
    ASSERT_EQ(found.runs.size(), 1u);
    expect_run(found, 0, RemedyKind::damp_course, {mm(0, -300), mm(100, -300)});
    EXPECT_DOUBLE_EQ(found.length, from_mm(100));
    expect_it_works(d, "foot-below");
    // Laid above the blinding, as the sample has it, the membrane leaves the blinding beside the lowest 20 mm of the block,
    // and 5 mm of it beside the block below: another 5 mm of upright edge.
    d.section.membranes[0].path[0] = mm(-1500, -280), d.section.membranes[0].path[1] = mm(0, -280);
    EXPECT_DOUBLE_EQ(remedy(d, "foot-below").length, from_mm(105));
}

// Common practice, no source: insulation above the slab, its membrane passing under the block: no further damp course.
TEST(SampleWater, insulation_above_the_slab_with_its_membrane_under_the_block_needs_no_more) {
    Draft d = sample("slab-insulation-above");
    d.membrane("dpm", {{-1500, -165}, {0, -165}, {0, -300}, {100, -300}}, MembraneKind::dpm).membrane("dpc-outer", {{225, -75}, {327.5, -75}});
    for (const char* id : {"foot-below", "foot-above", "leaf"}) {
        EXPECT_EQ(state(d, id), WaterState::no_path) << id;
        EXPECT_EQ(remedy(d, id).answer, none_needed) << id;
        EXPECT_EQ(relied(d, id), std::vector<std::string>{"dpm"}) << id;
    }
    EXPECT_EQ(state(d, "slab"), WaterState::reached);
    // As the sample has it the membrane passes over the lower block and under the upper one: the upper one needs no more.
    d.section.membranes[0].path = {mm(-1500, -165), mm(0, -165), mm(0, -75), mm(100, -75)};
    EXPECT_EQ(remedy(d, "foot-above").answer, none_needed);
    EXPECT_EQ(state(d, "foot-below"), WaterState::reached);
}

}  // namespace
}  // namespace wallfoot
